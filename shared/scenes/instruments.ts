/** The quantities of a body that are dragged on the sheet: ballast slabs for mass, a force-crush line for the front. */
import { type Handle, node, type Node } from "../drawing.ts";
import type { Write } from "../lesson.ts";
import { roundUp } from "./round.ts";
import { arrow, grip, group, line, type Point, polyline, rectangle, round, text, widthOf } from "./marks.ts";

/** A dial read at the present state. `input` is null where it only shows. */
export interface Reading {
  readonly input: string | null;
  readonly value: number;
  readonly to: number;
  readonly digits?: number;
}

export interface Instrument {
  readonly nodes: readonly Node[];
  readonly handles: readonly Handle[];
}

const MOST_SLABS = 40;
/** The grip stands just beyond the end that it moves, so that the end itself can be seen. */
export const BEYOND = 11;

/** A round mass for one slab, so that a full row has at most 40 of them. */
export const slabMass = (to: number, write: Pick<Write, "units"> = {}): number => roundUp("mass", to / MOST_SLABS, write);

const digitsOf = (reading: Reading): { digits?: number } => (reading.digits === undefined ? {} : { digits: reading.digits });

/** A row of slabs, as long as the mass; its end is dragged. */
export const ballast = (reading: Reading, rowTo: number, at: Point, width: number, body: "a" | "b", write: Write): Instrument => {
  const [x, y] = at;
  const perKilogram = width / rowTo;
  const slab = slabMass(rowTo, write);
  const step = slab * perKilogram;
  const end = x + reading.value * perKilogram;
  const count = Math.ceil(reading.value / slab - 1e-9);
  const slabs = Array.from({ length: Math.max(0, count) }, (_, i) => rectangle(x + i * step, y, Math.min(step, end - (x + i * step)) - Math.min(1.5, 0.2 * step), 24, "slab"));
  return {
    nodes: [
      group(`ballast body-${body}`, [
        text([x, y - 9], write("mass", reading.value, digitsOf(reading)), "label label-strong"),
        text([x, y + 42], `slabs of ${write("mass", slab, slab < 1 ? { digits: 2 } : {})}`, "label label-soft"),
        rectangle(x, y, width, 24, "slab-room"),
        group("slabs", slabs),
        line([end, y - 4], [end, y + 28], "reading-end"),
      ]),
      ...(reading.input === null ? [] : [grip([end + BEYOND, y + 12], reading.input, `body-${body}`)]),
    ],
    handles: reading.input === null ? [] : [{ input: reading.input, origin: [round(x + BEYOND), y + 12], perUnit: [perKilogram, 0] }],
  };
};

export interface FrontReading {
  readonly nose: Reading;
  readonly cell: Reading | null;
  readonly noseLength: number;
}

/** Crush shown behind the nose, as a share of the longest nose. */
const CELL_SHARE = 0.5;

/** The axes that all fronts of a sheet share, so that a longer or steeper line means a longer or stiffer front. */
export interface FrontAxes {
  /** Force at the right end [N]. */
  readonly reach: number;
  /** Depth at the lower end [m]. */
  readonly deepest: number;
  /** Depth of the cell that is shown [m]. */
  readonly cellDepth: number;
}

export const frontAxes = (fronts: readonly FrontReading[]): FrontAxes => {
  const longest = Math.max(0, ...fronts.map(({ noseLength }) => noseLength));
  const cellDepth = fronts.some(({ cell }) => cell !== null) ? CELL_SHARE * longest : 0;
  return { reach: Math.max(0, ...fronts.map(({ nose, cell, noseLength }) => noseLength * nose.to + cellDepth * (cell?.to ?? 0))), deepest: longest + cellDepth, cellDepth };
};

/** Type of the words, and how far they may stand out beyond their line. */
const LETTER = 15;
const BESIDE_LINE = 10;

/** The force-crush line with depth downwards and force to the right, so that its ends move sideways: the further out, the stiffer. */
export const frontLine = (front: FrontReading, foremost: string, { reach, deepest, cellDepth }: FrontAxes, at: Point, size: { readonly width: number; readonly height: number }, body: "a" | "b", write: Write, behind = "cell"): Instrument => {
  const [x, y] = at;
  const perNewton = size.width / reach;
  const perMetre = size.height / deepest;
  const noseEnd: Point = [x + front.nose.value * front.noseLength * perNewton, y + front.noseLength * perMetre];
  // words wider than their line are set small, or they would leave a narrow sheet
  const told = (place: Point, words: string): Node => text(place, words, widthOf(words, LETTER) > size.width + BESIDE_LINE ? "label label-small label-strong" : "label label-strong");
  const cellEnd: Point | null = front.cell && [noseEnd[0] + front.cell.value * cellDepth * perNewton, noseEnd[1] + cellDepth * perMetre];
  const handles: Handle[] = [];
  if (front.nose.input !== null) handles.push({ input: front.nose.input, origin: [x, noseEnd[1]], perUnit: [front.noseLength * perNewton, 0] });
  if (front.cell && cellEnd && front.cell.input !== null) handles.push({ input: front.cell.input, origin: [noseEnd[0], cellEnd[1]], perUnit: [cellDepth * perNewton, 0] });
  return {
    nodes: [
      group(`front-line body-${body}`, [
        told([x, y - 9], `${foremost} ${write("stiffness", front.nose.value, digitsOf(front.nose))}`),
        arrow([x, y], [x + size.width, y], "axis", { width: 1.2, head: 8 }),
        arrow([x, y], [x, y + size.height + 10], "axis", { width: 1.2, head: 8 }),
        text([x + size.width, y + 16], "force", "label label-soft", "end"),
        node("text", { transform: `translate(${round(x - 6)},${round(y + size.height / 2)}) rotate(-90)`, "text-anchor": "middle", class: "label label-soft" }, ["depth"]),
        ...(front.cell ? [told([x, y + size.height + 27], `${behind} ${write("stiffness", front.cell.value, digitsOf(front.cell))}`)] : []),
        line([x, noseEnd[1]], [x + size.width, noseEnd[1]], "guide"),
        polyline(cellEnd ? [[x, y], noseEnd, cellEnd] : [[x, y], noseEnd], "curve"),
      ]),
      ...(front.nose.input === null ? [] : [grip(noseEnd, front.nose.input, `body-${body}`)]),
      ...(front.cell?.input && cellEnd ? [grip(cellEnd, front.cell.input, `body-${body}`)] : []),
    ],
    handles,
  };
};
