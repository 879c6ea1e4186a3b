/**
 * A scene as a plate. The wide drawing gives the picture; its words are taken out and set again at broadcast size: what is said of a
 * body in that body's column, the rest below. Frame, grips and the instruments under the drawing stay on the page: one idea a plate.
 */
import { type Drawing, node, type Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { type Box, boundsOf, isNothing, NOTHING, union, windowOf } from "./bounds.ts";
import type { Painter } from "./paint.ts";
import { ASCENT, column, LEADING, LEAST_CAP, LIVE, type Plate, TEXT, THINNEST, titleOf, type Words } from "./plate.ts";
import { KEY_WIDTH, keyMark, type Side, SIDES } from "./sides.ts";
import { broken, widthOf } from "./type/outline.ts";

/** Groups that serve the page: taken out with their words. */
const PAGE_ONLY = ["off-screen", "sheet-frame", "grip", "ballast", "front-line", "push-so-far", "bar", "page-only", "ground-tick", "tag-letter", "label-soft"];
/** Groups whose words say enough without their bar. */
const WORDS_ONLY = ["falling", "drop", "pull", "passed"];
/** Groups of words with a sample of what they name before them. */
const KEYED = "ledger-key";
/** Words that keep their place: at the left edge beside what they name, or over the column that they head. */
const ROW_LABEL = "row-label";
const COLUMN_HEAD = "column-head";
/** Not dropped, whatever else they are: a falling mass is what the picture is about, not an instrument. */
const KEPT = ["falling", ROW_LABEL, COLUMN_HEAD];
/** A line between rows, not between parts. */
const ROW_RULE = "row-rule";

/** A line over this much of the sheet is the ground, or parts one drawing from the next. */
const ACROSS = 0.8;
/** Instants over which a plate is laid out, so that nothing on it moves but the event. */
const SAMPLES = 40;
/** Bands of a drawing that fit on a plate together, in its own units. */
const BANDS = 500;
/** A band lower than this, such as a lone arrow, is no picture by itself: it belongs to the one under it, the last to the one above. */
const LEAST_BAND = 60;
/** The picture keeps at least this much height: strong words may press it further than others. What has no room stays in the description. */
const LEAST_PICTURE = { strong: 320, soft: 430 } as const;
const LARGEST = 2.4;
const GAP = 56;
const AIR = 14;
/** Strokes reach this far beyond their middle line. */
const STROKE = 3;

const classesOf = ({ attributes }: Node): string[] => String(attributes["class"] ?? "").split(/\s+/);
const wordsOf = (each: Node): string => each.children.map((child) => (typeof child === "string" ? child : wordsOf(child))).join("");

const holds = (outer: Box, inner: Box): boolean => isNothing(inner) || (inner.left >= outer.left && inner.right <= outer.right && inner.top >= outer.top && inner.bottom <= outer.bottom);

/** Words of the drawing: whose they are, and a name for their place that stays as they change. */
interface Said {
  readonly key: string;
  readonly side: Side | null;
  readonly words: string;
  readonly strong: boolean;
  readonly y: number;
  /** A sample of what the words name. */
  readonly swatch?: Node;
}

/** Words as they stand in the drawing. */
interface Found extends Omit<Said, "key"> {
  readonly path: string;
  /** The group that they stand in. */
  readonly group: object;
  readonly x: number;
  readonly anchor: string;
}

/** A body by its letter; "A falling mass" is another A. */
const LETTERS: Readonly<Record<Side, RegExp>> = { a: /\bA\b(?! [a-z])/, b: /\bB\b/ };

/** Lines of a label, drawing units. */
const LINE = 24;
const NUMBER = /^[\d\u2212]/;
const NUMBER_ON = /[\d\u2212].*$/su;

/** A label and the number beside or under it are one thing said. */
const joined = (found: readonly Found[]): Found[] => {
  const out: Found[] = [];
  for (const next of found) {
    const last = out.at(-1);
    const beside = last !== undefined && last.group === next.group && last.y === next.y;
    const under = last !== undefined && last.group === next.group && last.x === next.x && last.anchor === next.anchor && Math.abs(next.y - last.y) <= LINE;
    if (last !== undefined && (beside || under) && NUMBER.test(next.words) && !NUMBER.test(last.words)) out[out.length - 1] = { ...last, words: `${last.words} ${next.words}`, strong: next.strong };
    else if (last !== undefined && beside && !/\d/.test(last.words) && /\d/.test(next.words)) out[out.length - 1] = { ...last, words: `${last.words}: ${next.words}` };
    else out.push(next);
  }
  return out;
};

/** Words at a place of the drawing. */
interface Placed {
  readonly words: string;
  readonly x: number;
  readonly y: number;
}

interface Taken {
  readonly art: readonly Node[];
  /** What holds a number. */
  readonly said: readonly Said[];
  /** What stands over a band of the drawing. */
  readonly headings: readonly { readonly words: string; readonly y: number }[];
  readonly clock: string;
  /** Each holds for the band that it stands in. */
  readonly bars: readonly { readonly length: number; readonly words: string; readonly y: number }[];
  /** Words that keep their place. */
  readonly labels: readonly Placed[];
  readonly columns: readonly Placed[];
  /** Heights at which the drawing is cut into bands. */
  readonly cuts: readonly number[];
  readonly ground: readonly number[];
}

const lengthOfBar = (bar: Node): number => Math.max(0, ...bar.children.flatMap((each) => (typeof each === "object" && classesOf(each).includes("scale-outline") ? [Number(each.attributes["width"])] : [])));

/** A drawing with its words apart. */
const take = (nodes: readonly Node[], names: Readonly<Partial<Record<Side, string>>>, width: number): Taken => {
  const found: Found[] = [];
  const cuts: number[] = [];
  const ground: number[] = [];
  const labels: Placed[] = [];
  const columns: Placed[] = [];
  let clock = "";
  const bars: Taken["bars"][number][] = [];

  const listen = (each: Node, side: Side | null, path: string, group: object, swatch: Node | undefined): void => {
    const words = wordsOf(each);
    if (words === "") return;
    const classes = classesOf(each);
    if (classes.includes("label-time")) {
      clock = words;
      return;
    }
    const kept = classes.includes(ROW_LABEL) ? labels : classes.includes(COLUMN_HEAD) ? columns : undefined;
    if (kept !== undefined) {
      kept.push({ words, x: Number(each.attributes["x"] ?? 0), y: Number(each.attributes["y"] ?? 0) });
      return;
    }
    const whose =
      side ??
      SIDES.find((one) => names[one] !== undefined && words.startsWith(`${names[one]}:`)) ??
      // What pushes a body is written on its side of the place where they touch.
      (/\bforces\b/.test(path) ? (each.attributes["text-anchor"] === "end" ? "a" : "b") : null);
    found.push({ path, group, ...(swatch !== undefined && { swatch }), side: whose, words, strong: classes.includes("label-strong"), x: Number(each.attributes["x"] ?? 0), y: Number(each.attributes["y"] ?? 0), anchor: String(each.attributes["text-anchor"]) });
  };

  const walk = (each: Node, side: Side | null, path: string, silent: boolean, group: object, swatch?: Node): Node | null => {
    const classes = classesOf(each);
    if (each.tag === "line" && Number(each.attributes["x2"]) - Number(each.attributes["x1"]) > ACROSS * width) {
      if (classes.includes("ground-line")) ground.push(Number(each.attributes["y1"]));
      if (classes.includes("rule") && !classes.includes(ROW_RULE)) cuts.push(Number(each.attributes["y1"]));
      return null;
    }
    if (classes.includes("scale-bar")) {
      const words = each.children.find((child): child is Node => typeof child === "object" && child.tag === "text");
      bars.push({ length: lengthOfBar(each), words: words === undefined ? "" : wordsOf(words), y: boundsOf([each]).top });
      return null;
    }
    if (classes.some((name) => PAGE_ONLY.includes(name)) && !classes.some((name) => KEPT.includes(name))) return null;
    const own = classes.includes("body-a") ? "a" : classes.includes("body-b") ? "b" : side;
    if (each.tag === "text") {
      listen(each, own, path, group, swatch);
      return null;
    }
    const quiet = silent || classes.some((name) => WORDS_ONLY.includes(name));
    const sample = classes.includes(KEYED) ? { ...each, children: each.children.filter((child) => typeof child === "object" && child.tag !== "text") } : undefined;
    const children = each.children.flatMap((child): (Node | string)[] => {
      const kept = typeof child === "string" ? child : walk(child, own, `${path} ${classes.join(".")}`, quiet, each, sample);
      return kept === null ? [] : [kept];
    });
    if (sample !== undefined) return null;
    if (quiet && each.tag !== "g") return null;
    // A window that cuts nothing off costs the renderer time for nothing.
    if (each.tag === "svg" && holds(windowOf(each), boundsOf(children.filter((child): child is Node => typeof child === "object")))) return node("g", { class: String(each.attributes["class"] ?? "") }, children);
    return { ...each, children };
  };
  const art = nodes.flatMap((each) => walk(each, null, "", false, nodes) ?? []);
  const counts = new Map<string, number>();
  const all = joined(found);
  const said = all.flatMap(({ words, side, path, strong, y, swatch }): Said[] => {
    const place = `${path} ${side}`;
    const count = counts.get(place) ?? 0;
    counts.set(place, count + 1);
    return /\d/.test(words) ? [{ key: `${place} ${count}`, side, words, strong, y, ...(swatch !== undefined && { swatch }) }] : [];
  });
  const headings = all.filter(({ group, strong, words }) => group === nodes && strong && !/\d/.test(words));
  return { art, said, headings, labels, columns, clock, bars, cuts, ground };
};

/** "Sprig 54.0 km/h" under the name of the Sprig is "54.0 km/h", and "pull on the Sprig 2.4 kN" is "pull 2.4 kN". */
const withoutName = (words: string, name: string | undefined): string => {
  if (name === undefined) return words;
  const written = name.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
  const rest = new RegExp(`^(?:the )?${written}(?::| (?=[\\d\\u2212]))\\s*(.+)$`, "i").exec(words)?.[1];
  return rest ?? words.replace(new RegExp(` (?:of|on) (?:the )?${written}(?= [\\d\\u2212])`, "i"), "");
};

interface Row {
  readonly key: string;
  readonly side: Side | null;
  readonly lines: number;
  readonly strong: boolean;
  /** Widest that it is at any instant, on one line. */
  readonly width: number;
  /** What it is a number of. */
  readonly of: string;
  /** Stands beside the name. */
  readonly beside?: boolean;
}

/** Left edge, top of the first line, and room to the right. */
interface Spot {
  readonly x: number;
  readonly y: number;
  readonly width: number;
}

/** Where a picture and its words stand. */
interface Setting {
  readonly rows: readonly Row[];
  readonly from: { readonly x: number; readonly y: number; readonly scale: number };
  /** Of the names of the bodies. */
  readonly names: Readonly<Partial<Record<Side, Spot>>>;
  /** Of the rows, by their keys. */
  readonly spots: ReadonlyMap<string, Spot>;
  /** Words in the picture, the same at each instant. */
  readonly still: readonly Words[];
}

/** Where everything stands, whatever the instant. */
export interface ScenePlan {
  readonly scene: Scene;
  readonly state: State;
  readonly write: Write;
  readonly names: Readonly<Partial<Record<Side, string>>>;
  /** What the key calls the sides. */
  readonly keys: Readonly<Partial<Record<Side, string>>>;
  readonly title: string;
  readonly sides: readonly Side[];
  readonly set: Setting;
  readonly band: readonly [top: number, bottom: number];
  /** What the scene says and there was no room for, as it is at the end of the event. */
  readonly leftOut: readonly string[];
  /** How many parts the drawing has. */
  readonly parts: number;
  /** That is all there is to show. */
  readonly whole: boolean;
}

export interface SceneRequest {
  readonly scene: Scene;
  readonly state: State;
  readonly write: Write;
  readonly names: Readonly<Partial<Record<Side, string>>>;
  /** In place of the scene's own. */
  readonly title?: string;
  /** Which band of the drawing, from the top, 1 the first; left out: as many as fit. */
  readonly part?: number;
}

/** From the edge of a column to what stands beside the name. */
const nameWidth = (name: string): number => KEY_WIDTH + widthOf(name, TEXT, "bold") + BESIDE;
const BESIDE = 36;
/** Share of the width that a picture takes at most with its words beside it, and how much larger it has to be by that. */
const MOST_BESIDE = 0.5;
const LARGER = 1.25;
/** From the foot of a label of the drawing to the middle of its capitals. */
const MIDDLE_OF_LABEL = 5;

const SAFE_WIDTH = LIVE.right - LIVE.left;
const COLUMN = (SAFE_WIDTH - GAP) / 2;

const columnOf = (side: Side): number => LIVE.left + (side === "a" ? 0 : COLUMN + GAP);

const inBand = (nodes: readonly Node[], [top, bottom]: readonly [number, number]): Node[] =>
  nodes.flatMap((each) => {
    const box = boundsOf([each]);
    if (isNothing(box)) return [];
    if (box.top >= top - 1 && box.bottom <= bottom + 1) return [each];
    // A group that spans bands is cut where they are.
    if ((each.tag !== "g" && each.tag !== "svg") || each.attributes["transform"] !== undefined) return (box.top + box.bottom) / 2 >= top && (box.top + box.bottom) / 2 <= bottom ? [each] : [];
    const children = inBand(each.children.filter((child): child is Node => typeof child === "object"), [top, bottom]);
    return children.length === 0 ? [] : [{ ...each, children }];
  });

/** Room that a sample takes before its words. */
const SWATCH = 80;
const indentOf = ({ swatch }: Said): number => (swatch === undefined ? 0 : SWATCH);

const linesOf = (said: Said, name: string | undefined, width: number): string[] => broken(withoutName(said.words, name), TEXT, said.strong ? "bold" : "regular", width - indentOf(said));

/** What belongs to no side stands two and two under the columns where there is room, and under that what is longer. */
const pairsOf = (rows: readonly Row[]): (readonly Row[])[] => {
  const shared = rows.filter(({ side }) => side === null);
  const short = shared.filter(({ width }) => width <= COLUMN);
  return [...short.flatMap((_, i) => (i % 2 === 0 ? [short.slice(i, i + 2)] : [])), ...shared.filter(({ width }) => width > COLUMN).map((row) => [row])];
};

/** A band of the drawing and what is in it. */
type Extent = readonly [top: number, bottom: number, box: Box];

interface Sample {
  readonly instant: number;
  readonly drawing: Drawing;
  readonly taken: Taken;
}

/** The last scene that was looked at: its parts are laid out one after the other. */
let lastLook: { readonly of: readonly unknown[]; readonly samples: readonly Sample[] } | undefined;

const samplesOf = (scene: Scene, state: State, write: Write, names: SceneRequest["names"]): readonly Sample[] => {
  const of = [scene, state, write, names.a, names.b];
  if (lastLook !== undefined && of.every((each, i) => each === lastLook?.of[i])) return lastLook.samples;
  const duration = scene.duration(state);
  const samples = Array.from({ length: duration > 0 ? SAMPLES + 1 : 1 }, (_, i) => {
    const instant = (duration * i) / SAMPLES;
    const drawing = scene.draw(state, instant, "wide", write);
    return { instant, drawing, taken: take(drawing.nodes, names, drawing.width) };
  });
  lastLook = { of, samples };
  return samples;
};

/** Lays a scene out once for all its instants. */
export const planScene = ({ scene, state, write, names, title: asked, part }: SceneRequest): ScenePlan => {
  const samples = samplesOf(scene, state, write, names);
  const first = samples[0] as Sample;

  // Bands that hold a picture.
  const edges = [0, ...[...new Set(samples.flatMap(({ taken }) => taken.cuts))].sort((p, q) => p - q), first.drawing.height];
  const filled = edges.slice(1).flatMap((bottom, i): Extent[] => {
    const band = [edges[i] as number, bottom] as const;
    const box = samples.reduce((sum, { taken }) => union(sum, boundsOf(inBand(taken.art, band))), NOTHING);
    return isNothing(box) ? [] : [[...band, box]];
  });
  const extents = filled.reduce<Extent[]>((list, extent, i) => {
    const last = list.at(-1);
    const isLow = ([, , box]: Extent): boolean => box.bottom - box.top < LEAST_BAND;
    if (last === undefined || (!isLow(last) && !(isLow(extent) && i === filled.length - 1))) return [...list, extent];
    return [...list.slice(0, -1), [last[0], extent[1], union(last[2], extent[2])]];
  }, []);
  if (extents.length === 0) throw new RangeError(`plate: scene ${scene.title} has nothing to show`);
  if (part !== undefined && extents[part - 1] === undefined) throw new RangeError(`plate: part must be a whole number from 1 to ${extents.length}, got ${part}`);
  const chosen = part === undefined ? extents.slice(0, 1) : [extents[part - 1] as Extent];
  if (part === undefined) for (const extent of extents.slice(1)) if (extent[2].bottom - (chosen[0] as Extent)[2].top <= BANDS) chosen.push(extent);
  const band = [(chosen[0] as Extent)[0], (chosen.at(-1) as Extent)[1]] as const;
  const box = chosen.reduce((sum, [, , each]) => union(sum, each), NOTHING);
  // One band by itself has its own heading.
  const [heading, further] = part === undefined ? [] : first.taken.headings.filter(({ y }) => y >= band[0] && y <= band[1]);
  const title = asked ?? (heading !== undefined && further === undefined ? heading.words : scene.title);
  const ground = first.taken.ground.filter((y) => y >= band[0] && y <= band[1]);
  const picture: Box = { left: box.left - STROKE, right: box.right + STROKE, top: box.top - STROKE, bottom: Math.max(box.bottom, ...ground) + STROKE };

  // The colours of a and b may stand for others in a scene: the key names only whom the scene's own words name.
  const told = samples.map(({ instant }) => scene.describe(state, instant, write)).join(" ");
  const isTold = (side: Side): boolean => told.toLowerCase().includes((names[side] as string).toLowerCase()) || LETTERS[side].test(told);
  const sides = SIDES.filter((side) => names[side] !== undefined && isTold(side) && samples.some(({ taken }) => !isNothing(boundsOf(inBand(sideNodes(taken.art, side), band)))));

  const head = titleOf(title).foot + LEADING;
  // Words that call the two A and B need the letters in the key.
  const letters = [title, ...samples.flatMap(({ taken }) => [...taken.said, ...taken.headings, ...taken.labels, ...taken.columns].map(({ words }) => words))].some((words) => SIDES.some((side) => LETTERS[side].test(words))) && !sides.some((side) => new RegExp(`\\b${side}$`, "i").test(names[side] as string));
  const keys = Object.fromEntries(sides.map((side) => [side, letters ? `${names[side]} (${side.toUpperCase()})` : (names[side] as string)])) as Readonly<Partial<Record<Side, string>>>;
  // One row for each thing said at any instant, as many lines as it ever takes in the room for it.
  const rowsIn = (own: number, shared: number): Row[] => {
    const rows = new Map<string, Row>();
    const shown = new Map<string, number>();
    for (const { taken } of samples)
      for (const said of taken.said) {
        if (said.y < band[0] || said.y > band[1]) continue;
        const name = said.side === null ? undefined : names[said.side];
        const lines = linesOf(said, name, said.side === null ? shared : own).length;
        const width = indentOf(said) + widthOf(withoutName(said.words, name), TEXT, said.strong ? "bold" : "regular");
        shown.set(said.key, (shown.get(said.key) ?? 0) + lines);
        const before = rows.get(said.key);
        rows.set(said.key, { key: said.key, side: said.side, strong: said.strong, lines: Math.max(lines, before?.lines ?? 0), width: Math.max(width, before?.width ?? 0), of: withoutName(said.words, name).replace(NUMBER_ON, "") });
      }
    // What was said of a body by its name goes beside the name, where there is room for it at every instant.
    const firsts = sides.map((side) => {
      const row = [...rows.values()].find((each) => each.side === side);
      const said = samples.flatMap(({ taken }) => taken.said).find(({ key }) => key === row?.key);
      return row && said && withoutName(said.words, names[side]) !== said.words && row.width <= own - nameWidth(keys[side] as string) ? row : undefined;
    });
    if (firsts.every((row) => row !== undefined)) for (const row of firsts) rows.set(row.key, { ...row, lines: 0, beside: true });
    // What comes and goes stands last, so that its room is not a gap.
    const fullness = ({ key, lines }: Row): number => (lines === 0 ? 1 : (shown.get(key) ?? 0) / (lines * samples.length));
    return [...rows.values()].sort((p, q) => fullness(q) - fullness(p));
  };
  /** What is not in strong type goes first where there is no room, and the last first; one set-up's number does not stay without the other's. */
  const fitted = (rows: readonly Row[], fits: (kept: readonly Row[], strong: boolean) => boolean): readonly Row[] => {
    let kept = rows;
    for (const strong of [false, true])
      while (!fits(kept, strong)) {
        const last = kept.findLast((row) => row.strong === strong && !row.beside);
        if (last === undefined) break;
        kept = kept.filter((row) => row.beside || row.strong !== strong || row.of !== last.of);
      }
    return kept;
  };
  const [wide, tall] = [picture.right - picture.left, picture.bottom - picture.top];
  const inPart = ({ y }: { readonly y: number }): boolean => y >= band[0] && y <= band[1];
  const labels = first.taken.labels.filter(inPart);
  const columns = first.taken.columns.filter(inPart);

  /** The picture, and its words below it, those of the two bodies in two columns. */
  const below = (): Setting => {
    const heightOf = (list: readonly Row[]): number => {
      const lines = (side: Side): number => list.reduce((sum, row) => sum + (row.side === side ? row.lines : 0), 0);
      return (sides.length > 0 ? LEADING : 0) + LEADING * (Math.max(lines("a"), lines("b")) + pairsOf(list).reduce((sum, [row]) => sum + (row as Row).lines, 0));
    };
    const rows = fitted(rowsIn(COLUMN, SAFE_WIDTH), (kept, strong) => LIVE.bottom - head - 2 * AIR - heightOf(kept) >= LEAST_PICTURE[strong ? "strong" : "soft"]);
    const left = LIVE.left + Math.max(0, ...labels.map(({ words }) => widthOf(words, TEXT, "regular") + BESIDE));
    const bottom = LIVE.bottom - heightOf(rows) - AIR;
    const within = (top: number): number => Math.min(LARGEST, (LIVE.right - left) / wide, (bottom - top) / tall);
    // Heads of columns take as many lines as the longest needs.
    const headLines = (scale: number): string[][] => columns.map(({ words, x }, i) => broken(words, TEXT, "bold", i + 1 < columns.length ? ((columns[i + 1] as Placed).x - x) * scale - BESIDE : LIVE.right - left - (x - picture.left) * scale));
    const heads = headLines(within(head + AIR));
    const top = head + AIR + LEADING * Math.max(0, ...heads.map((lines) => lines.length));
    const scale = within(top);
    const spare = bottom - top - scale * tall;
    // Rows stand beside their labels.
    const from = { x: labels.length > 0 ? left - scale * picture.left : left + (LIVE.right - left - scale * (picture.left + picture.right)) / 2, y: top + spare / 2 - scale * picture.top, scale };
    const spots = new Map<string, Spot>();
    const feet = { a: bottom + AIR, b: bottom + AIR };
    const places: Partial<Record<Side, Spot>> = {};
    for (const side of sides) {
      places[side] = { x: columnOf(side), y: feet[side], width: COLUMN };
      feet[side] += LEADING;
    }
    for (const row of rows)
      if (row.side !== null) {
        spots.set(row.key, { x: columnOf(row.side), y: feet[row.side], width: COLUMN });
        feet[row.side] += row.lines * LEADING;
      }
    let y = Math.max(feet.a, feet.b);
    for (const pair of pairsOf(rows)) {
      pair.forEach((row, i) => spots.set(row.key, { x: columnOf(i === 0 ? "a" : "b"), y, width: SAFE_WIDTH }));
      y += (pair[0] as Row).lines * LEADING;
    }
    const still = [
      ...labels.map(({ words, y: at }): Words => ({ role: "axis", words, x: LIVE.left, y: from.y + scale * (at - MIDDLE_OF_LABEL) + LEAST_CAP / 2, size: TEXT, weight: "regular", tone: "ink", anchor: "start" })),
      ...columns.flatMap(({ x }, i) => column(heads[i] as string[], top - AIR - LEADING * (heads[i] as string[]).length + spare / 2, { role: "axis", x: from.x + scale * x, weight: "bold" }).words),
    ];
    return { rows, from, names: places, spots, still };
  };

  /** The picture at the left, and all words beside it. */
  const beside = (): Setting => {
    const [top, bottom] = [head + AIR, LIVE.bottom - AIR];
    const scale = Math.min(LARGEST, (bottom - top) / tall, (SAFE_WIDTH * MOST_BESIDE) / wide);
    const x = LIVE.left + scale * wide + GAP;
    const width = LIVE.right - x;
    const linesIn = (list: readonly Row[]): number => sides.length + list.reduce((sum, { lines }) => sum + lines, 0);
    const rows = fitted(rowsIn(width, width), (kept) => linesIn(kept) * LEADING <= bottom - top);
    const spots = new Map<string, Spot>();
    const places: Partial<Record<Side, Spot>> = {};
    let y = top;
    for (const side of [...sides, null]) {
      if (side !== null) places[side] = { x, y, width };
      if (side !== null) y += LEADING;
      for (const row of rows.filter((each) => each.side === side || (side === null && !sides.includes(each.side as Side)))) {
        spots.set(row.key, { x, y: row.beside ? y - LEADING : y, width });
        y += row.lines * LEADING;
      }
    }
    return { rows, from: { x: LIVE.left - scale * picture.left, y: top + (bottom - top - scale * tall) / 2 - scale * picture.top, scale }, names: places, spots, still: [] };
  };

  const under = below();
  const next = labels.length + columns.length > 0 || ground.length > 0 ? undefined : beside();
  // A tall picture is shown larger beside its words, if none of them is lost by it.
  const set = next !== undefined && next.rows.length >= under.rows.length && next.from.scale >= LARGER * under.from.scale ? next : under;
  const said = samples.flatMap(({ taken }) => taken.said);
  const all = [...new Set(said.filter(inPart).map(({ key }) => key))];
  return {
    scene,
    state,
    write,
    names,
    keys,
    title,
    sides,
    set,
    band,
    leftOut: all.flatMap((key) => (set.spots.has(key) ? [] : (said.findLast((each) => each.key === key)?.words ?? []))),
    parts: extents.length,
    whole: chosen.length === extents.length,
  };
};

const sideNodes = (nodes: readonly Node[], side: Side): Node[] =>
  nodes.flatMap((each) => (classesOf(each).includes(`body-${side}`) ? [each] : sideNodes(each.children.filter((child): child is Node => typeof child === "object"), side)));

const rounded = (value: number): number => Math.round(value * 1000) / 1000;

/** A sample before its words, in the room of a line whose top is `y`. */
const sampleAt = (swatch: Node, x: number, y: number): Node => {
  const box = boundsOf([swatch]);
  const scale = (SWATCH - 24) / (box.right - box.left);
  return node("g", { transform: `translate(${rounded(x - scale * box.left)},${rounded(y + ASCENT - 22 - (scale * (box.top + box.bottom)) / 2)}) scale(${rounded(scale)})` }, [swatch]);
};

/** The picture of a planned scene at an instant. */
export const scenePlate = (plan: ScenePlan, instant: number, { paint }: Painter): Plate => {
  const { scene, state, write, names, keys, sides, set, band, whole } = plan;
  const { from } = set;
  const drawing = scene.draw(state, instant, "wide", write);
  const { art, said, clock, bars, ground } = take(drawing.nodes, names, drawing.width);
  const title = titleOf(plan.title);
  const words: Words[] = [...title.words];
  words.push(...column([clock], title.foot, { role: "clock", x: LIVE.left }).words.filter((line) => line.words !== ""));
  const marks: Node[] = [];
  // The first beside the clock, those of further bands where they stand.
  bars.filter(({ y }) => y >= band[0] && y <= band[1]).forEach((bar, i) => {
    const length = bar.length * from.scale;
    const label = bar.words.replace(/^to scale, /, "");
    const keysTop = Math.min(...Object.values(set.names).map((spot) => spot.y));
    const top = i === 0 ? title.foot : Math.min(from.y + from.scale * bar.y - ASCENT / 2, keysTop - LEADING);
    words.push(...column([label], top, { role: "scale", x: LIVE.right, anchor: "end" }).words);
    const right = LIVE.right - widthOf(label, TEXT, "regular") - 24;
    const y = rounded(top + 28);
    marks.push(
      node("g", { class: "scale-bar" }, [
        node("rect", { x: rounded(right - length), y, width: rounded(length), height: 16, class: "scale-outline" }),
        ...[0, 2].map((k) => node("rect", { x: rounded(right - length + (k * length) / 4), y, width: rounded(length / 4), height: 16, class: "scale-block" })),
      ]),
    );
  });

  for (const side of sides) {
    const spot = set.names[side] as Spot;
    marks.push(keyMark(side, spot.x, spot.y));
    words.push(...column([keys[side] as string], spot.y, { role: "key", x: spot.x + KEY_WIDTH, weight: "bold" }).words);
  }
  words.push(...set.still);
  const now = new Map(said.map((each) => [each.key, each]));
  for (const row of set.rows) {
    const each = now.get(row.key);
    const spot = set.spots.get(row.key);
    if (each === undefined || spot === undefined) continue;
    const name = row.side === null ? undefined : names[row.side];
    if (each.swatch !== undefined) marks.push(sampleAt(each.swatch, spot.x, spot.y));
    const style = { role: "value", weight: row.strong ? "bold" : "regular" } as const;
    if (row.beside) words.push(...column([withoutName(each.words, name)], (set.names[row.side as Side] as Spot).y, { ...style, x: spot.x + nameWidth(keys[row.side as Side] as string) }).words);
    else words.push(...column(linesOf(each, name, spot.width), spot.y, { ...style, x: spot.x + indentOf(each) }).words);
  }

  const shown = whole ? art : inBand(art, band);
  // The ground runs from edge to edge of what is safe, however large the picture is.
  const [left, right] = [(LIVE.left - from.x) / from.scale, (LIVE.right - from.x) / from.scale];
  const grounds = ground.filter((level) => level >= band[0] && level <= band[1]).map((level) => node("line", { x1: rounded(left), x2: rounded(right), y1: level, y2: level, class: "ground-line" }));
  const picture = node("g", { transform: `translate(${rounded(from.x)},${rounded(from.y)}) scale(${rounded(from.scale)})` }, [...grounds, ...shown]);
  const thinnest = rounded(THINNEST / from.scale);
  return { title: plan.title, says: scene.describe(state, instant, write), art: [paint([picture], "drawing", thinnest), paint(marks, "drawing")], words };
};
