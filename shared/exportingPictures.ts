/** Pixels from a plate, drawn by the browser itself, and files for the reader to keep. Nothing leaves the machine. */

/** Draws SVG text of a known size. The canvas is clear where the drawing is. */
export const rasterise = async (svg: string, width: number, height: number, canvas = document.createElement("canvas")): Promise<HTMLCanvasElement> => {
  const address = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
  try {
    const image = new Image(width, height);
    image.src = address;
    await image.decode();
    if (canvas.width !== width || canvas.height !== height) [canvas.width, canvas.height] = [width, height];
    const context = canvas.getContext("2d", { willReadFrequently: true });
    if (context === null) throw new Error("this browser gives no canvas of that size");
    context.clearRect(0, 0, width, height);
    context.drawImage(image, 0, 0, width, height);
    return canvas;
  } finally {
    URL.revokeObjectURL(address);
  }
};

/** PNG of what is on a canvas: 8 bits a channel, straight alpha, as the format has it. */
export const pngOf = (canvas: HTMLCanvasElement): Promise<Blob> =>
  new Promise((done, fail) => canvas.toBlob((blob) => (blob === null ? fail(new Error("this browser gives no PNG of that size")) : done(blob)), "image/png"));

/** Offers a file to keep. */
export const keepFile = (name: string, content: Blob): void => {
  const link = document.createElement("a");
  const address = URL.createObjectURL(content);
  link.href = address;
  link.download = name;
  link.click();
  // The browser reads it after the click has returned.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
};
