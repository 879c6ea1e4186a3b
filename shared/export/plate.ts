/** A plate: one scene or one figure as a whole picture for a 16:9 screen, with its words set at broadcast size and outlined. */
import { node, type Node } from "../drawing.ts";
import { serialise } from "../svg.ts";
import type { Box } from "./bounds.ts";
import type { Painter } from "./paint.ts";
import { broken, CAP, EM, type Ink, measure, outline, type Weight } from "./type/outline.ts";

/** A plate is laid out for this many lines and columns; twice as large is the same drawing at twice the size. */
export const WIDTH = 1920;
export const HEIGHT = 1080;

export const SIZES = { hd: 1, uhd: 2 } as const;
export type Size = keyof typeof SIZES;

/** `none` lets through what is behind: in the colours of light paper, or of dark paper where that is dark. */
export const GROUNDS = ["light", "dark", "none", "none-dark"] as const;
export type Ground = (typeof GROUNDS)[number];
export const isClear = (ground: Ground): boolean => ground.startsWith("none");
export const paperOf = (ground: Ground): "light" | "dark" => (ground.endsWith("dark") ? "dark" : "light");

/** Action-safe is the centre 93 %, graphics-safe the centre 90 % (EBU R 95, ITU-R BT.1848-1 and SMPTE ST 2046-1, each as quoted by others). */
const safe = (share: number): Box => ({ left: Math.round((WIDTH * (1 - share)) / 2), right: WIDTH - Math.round((WIDTH * (1 - share)) / 2), top: Math.round((HEIGHT * (1 - share)) / 2), bottom: HEIGHT - Math.round((HEIGHT * (1 - share)) / 2) });
export const ACTION_SAFE = safe(0.93);
export const GRAPHICS_SAFE = safe(0.9);

/** What a plate is laid out in: halos and thick strokes reach a little further, and are to stay within the safe area too. */
const INSET = 8;
export const LIVE: Box = { left: GRAPHICS_SAFE.left + INSET, right: GRAPHICS_SAFE.right - INSET, top: GRAPHICS_SAFE.top, bottom: GRAPHICS_SAFE.bottom - INSET };

/** Least height of a capital: 24 lines of a 576-line picture (an accessibility checklist, as quoted by others), that is 45 of 1080. */
export const LEAST_CAP = (24 / 576) * HEIGHT;

/** Type that is just tall enough, and one step up for the title. */
export const TEXT = Math.ceil(LEAST_CAP / CAP);
export const TITLE = TEXT + 4;
/** Lines of text stand this far apart. */
export const LEADING = 76;
/** From the top of a line's room to its baseline. */
export const ASCENT = 58;

/** Thinnest stroke: a line of one pixel shimmers as a picture is scaled or moves (common practice, no source). */
export const THINNEST = 2;

export type Tone = "ink" | "soft" | "a" | "b";

/** What a line of words is there for: everything but values and labels stands before anything is found out. */
export type Role = "title" | "clock" | "scale" | "key" | "axis" | "label" | "value" | "caution";

/** A line of words in its place: `x` is the start, middle or end of it, `y` its baseline. */
export interface Words {
  readonly role: Role;
  readonly words: string;
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly weight: Weight;
  readonly tone: Tone;
  readonly anchor: "start" | "middle" | "end";
}

export interface Plate {
  readonly title: string;
  /** The picture in words, for readers who cannot see it. */
  readonly says: string;
  /** Everything but words, painted. */
  readonly art: readonly Node[];
  readonly words: readonly Words[];
}

const startOf = ({ words, x, size, weight, anchor }: Words): number => (anchor === "start" ? x : x - measure(words, size, weight).advance * (anchor === "middle" ? 0.5 : 1));

/** Where the ink of a line of words is. */
export const inkOf = (line: Words): Ink => {
  const { ink } = measure(line.words, line.size, line.weight);
  const x = startOf(line);
  return { left: x + ink.left, right: x + ink.right, top: line.y + ink.top, bottom: line.y + ink.bottom };
};

const TONES: Readonly<Record<Tone, string>> = { ink: "--ink", soft: "--ink-soft", a: "--a", b: "--b" };
/** Paper around words over a picture that is not known yet. */
const HALO = 12;

const tenth = (value: number): number => Math.round(value * 10) / 10;

const wordsNode = (line: Words, { colours }: Painter, ground: Ground): Node => {
  const scale = line.size / EM;
  const fill = colours[TONES[line.tone]] as string;
  const halo: Record<string, string | number> = isClear(ground) ? { stroke: colours["--paper"] as string, "stroke-width": Math.round(HALO / scale), "stroke-linejoin": "round", "paint-order": "stroke" } : {};
  const factor = Number(scale.toFixed(6));
  return node("path", { d: outline(line.words, line.weight), transform: `translate(${tenth(startOf(line))} ${tenth(line.y)}) scale(${factor} ${-factor})`, fill, ...halo });
};

/** The plate as SVG text at its size, all words as outlines. */
export const writePlate = (plate: Plate, paint: Painter, ground: Ground, size: Size): string => {
  const [width, height] = [WIDTH * SIZES[size], HEIGHT * SIZES[size]];
  const sheet = isClear(ground) ? [] : [node("rect", { x: 0, y: 0, width: WIDTH, height: HEIGHT, fill: paint.colours["--paper"] as string })];
  const nodes = [node("title", {}, [plate.title]), node("desc", {}, [plate.says]), ...sheet, ...plate.art, ...plate.words.map((line) => wordsNode(line, paint, ground))];
  return serialise({ width: WIDTH, height: HEIGHT, nodes, handles: [] }, { width: String(width), height: String(height), class: "plate" });
};

/** Lines of words one below the other from the top `y` of the first; and the foot of the last. */
export const column = (lines: readonly string[], y: number, { role, x, size = TEXT, weight = "regular", tone = "ink", anchor = "start" }: { readonly role: Role; readonly x: number; readonly size?: number; readonly weight?: Weight; readonly tone?: Tone; readonly anchor?: Words["anchor"] }): { readonly words: Words[]; readonly foot: number } => ({
  words: lines.map((words, i) => ({ role, words, x, y: y + ASCENT + i * LEADING, size, weight, tone, anchor })),
  foot: y + lines.length * LEADING,
});

/** The title, over the whole width. */
export const titleOf = (title: string): { readonly words: Words[]; readonly foot: number } =>
  column(broken(title, TITLE, "bold", LIVE.right - LIVE.left), LIVE.top, { role: "title", x: LIVE.left, size: TITLE, weight: "bold" });
