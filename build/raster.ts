/** SVG to pixels to PNG, the same in the main thread and in a worker. */
import { deflateSync, inflateSync } from "node:zlib";
import { decodePng, encodePng, type Picture, straighten } from "../shared/export/png.ts";

/** The part of the renderer that is used. */
export interface Renderer {
  new (svg: string, options: { readonly font: { readonly loadSystemFonts: boolean } }): { render: () => { readonly width: number; readonly height: number; readonly pixels: Uint8Array } };
}

/** Straight RGBA. Words are outlines, so no font is asked for. */
export const drawPixels = (Resvg: Renderer, svg: string): Picture => {
  const { width, height, pixels } = new Resvg(svg, { font: { loadSystemFonts: false } }).render();
  straighten(pixels);
  return { width, height, pixels };
};

export const pngOf = ({ pixels, width, height }: Picture, level: number): Uint8Array => encodePng(pixels, width, height, (bytes) => deflateSync(bytes, { level }));

export const readPng = (file: Uint8Array): Picture | undefined => decodePng(file, (bytes) => inflateSync(bytes));
