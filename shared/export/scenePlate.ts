/**
 * A scene as a plate. The wide drawing gives the picture; its words are taken out and set again at broadcast size: what is said of a
 * body in that body's column, the rest below. Frame, grips and the instruments under the drawing stay on the page: one idea a plate.
 */
import { type Drawing, node, type Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { type Box, boundsOf, isNothing, NOTHING, union, windowOf } from "./bounds.ts";
import { cautionAt, withCaution } from "./caution.ts";
import { spelt } from "./letters.ts";
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
/** Words that say that something is out of its limit: a plate without them is refused. */
const WARNING = "label-warn";
/** Groups that are nothing without the words in them: bars of no name. */
const NAMED = ["energy"];

/** A line over this much of the sheet is the ground, or parts one drawing from the next. */
const ACROSS = 0.8;
/** Instants over which a plate is laid out, so that nothing on it moves but the event. */
const SAMPLES = 40;
/** Bands of a drawing that fit on a plate together, in its own units. */
const BANDS = 500;
/** A band lower than this, such as a lone arrow, is no picture by itself: it belongs to the one under it, the last to the one above. */
const LEAST_BAND = 60;
/** What words weigh: a warning is never lost, and what is in strong type is lost after what is not. */
const WEIGHTS = ["soft", "strong", "warning"] as const;
type Weighs = (typeof WEIGHTS)[number];
/**
 * The picture keeps at least this much height, or all that it can use: weightier words may press it further. A smaller picture is
 * better than a reading lost; what has no room even so stays in the description.
 */
const LEAST_PICTURE: Readonly<Record<Weighs, number>> = { soft: 240, strong: 200, warning: 120 };
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
  readonly warning: boolean;
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
    if (last !== undefined && (beside || under) && NUMBER.test(next.words) && !NUMBER.test(last.words)) out[out.length - 1] = { ...last, words: `${last.words} ${next.words}`, strong: next.strong, warning: last.warning || next.warning };
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
  readonly headings: readonly Placed[];
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
    found.push({ path, group, ...(swatch !== undefined && { swatch }), side: whose, words, strong: classes.includes("label-strong"), warning: classes.includes(WARNING), x: Number(each.attributes["x"] ?? 0), y: Number(each.attributes["y"] ?? 0), anchor: String(each.attributes["text-anchor"]) });
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
  const said = all.flatMap(({ words, side, path, strong, warning, y, swatch }): Said[] => {
    // Each band counts for itself: what comes and goes in one does not move the words of another.
    const place = `${path} ${side} ${cuts.filter((cut) => cut < y).length}`;
    const count = counts.get(place) ?? 0;
    counts.set(place, count + 1);
    return warning || /\d/.test(words) ? [{ key: `${place} ${count}`, side, words, strong, warning, y, ...(swatch !== undefined && { swatch }) }] : [];
  });
  const headings = all.filter(({ group, strong, warning, words }) => group === nodes && strong && !warning && !/\d/.test(words));
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
  readonly weighs: Weighs;
  /** In the drawing. */
  readonly y: number;
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

/** A band of the drawing: where its origin is on the plate, and where its room there ends. */
interface Piece {
  readonly band: readonly [top: number, bottom: number];
  readonly y: number;
  readonly foot: number;
}

/** Where a picture and its words stand. */
interface Setting {
  readonly rows: readonly Row[];
  /** Left edge of the drawing, and pixels for each of its units. */
  readonly from: { readonly x: number; readonly scale: number };
  readonly pieces: readonly Piece[];
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
  /** Who is not in the key. */
  readonly unkeyed: readonly Side[];
  readonly set: Setting;
  readonly band: readonly [top: number, bottom: number];
  /** What the scene says and there was no room for, as it is at the end of the event. */
  readonly leftOut: readonly string[];
  /** How many parts the drawing has. */
  readonly parts: number;
  /** That is all there is to show. */
  readonly whole: boolean;
  readonly caution: string | undefined;
}

/** All parts of the drawing are on the plate, with all that is said of them. Where this does not hold, parts by themselves show more. */
export const isWhole = ({ whole, leftOut }: ScenePlan): boolean => whole && leftOut.length === 0;

export interface SceneRequest {
  readonly scene: Scene;
  readonly state: State;
  readonly write: Write;
  readonly names: Readonly<Partial<Record<Side, string>>>;
  /** In place of the scene's own. */
  readonly title?: string;
  /** Which band of the drawing, from the top, 1 the first; left out: as many as fit. */
  readonly part?: number;
  /** One line at the foot, on a picture of what can hurt someone. */
  readonly caution?: string | undefined;
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
export const planScene = ({ scene, state, write, names, title: asked, part, caution }: SceneRequest): ScenePlan => {
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
  const inPart = ({ y }: { readonly y: number }): boolean => y >= band[0] && y <= band[1];
  const headings = first.taken.headings.filter(inPart);
  // One band by itself has its heading for a title.
  const named = part !== undefined && asked === undefined && headings.length === 1;
  const title = asked ?? (named ? (headings[0] as Placed).words : scene.title);
  const ground = first.taken.ground.filter((y) => y >= band[0] && y <= band[1]);
  const picture: Box = { left: box.left - STROKE, right: box.right + STROKE, top: box.top - STROKE, bottom: Math.max(box.bottom, ...ground) + STROKE };

  // The colours of a and b may stand for others in a scene: the key names only whom the scene's own words name.
  const told = samples.map(({ instant }) => scene.describe(state, instant, write)).join(" ");
  const isTold = (side: Side): boolean => told.toLowerCase().includes((names[side] as string).toLowerCase()) || LETTERS[side].test(told);
  const sides = SIDES.filter((side) => names[side] !== undefined && isTold(side) && samples.some(({ taken }) => !isNothing(boundsOf(inBand(sideNodes(taken.art, side), band)))));

  const head = titleOf(title).foot + LEADING;
  const { floor } = cautionAt(caution);
  // Words that call the two A and B need the letters in the key.
  const letters = [title, ...samples.flatMap(({ taken }) => [...taken.said, ...taken.headings, ...taken.labels, ...taken.columns].map(({ words }) => words))].some((words) => SIDES.some((side) => LETTERS[side].test(words))) && !sides.some((side) => new RegExp(`\\b${side}$`, "i").test(names[side] as string));
  const keys = Object.fromEntries(sides.map((side) => [side, letters ? `${names[side]} (${side.toUpperCase()})` : (names[side] as string)])) as Readonly<Partial<Record<Side, string>>>;
  // Who is not in the picture is not in its key: words have the name in place of the letter.
  const unkeyed = SIDES.filter((side) => !sides.includes(side));
  const spell = (words: string): string => spelt(words, names, { sides: unkeyed, article: true });
  // One row for each thing said at any instant, as many lines as it ever takes in the room for it.
  const rowsIn = (own: number, shared: number): Row[] => {
    const rows = new Map<string, Row>();
    const shown = new Map<string, number>();
    for (const { taken } of samples)
      for (const each of taken.said) {
        if (each.y < band[0] || each.y > band[1]) continue;
        const said = { ...each, words: spell(each.words) };
        const name = said.side === null ? undefined : names[said.side];
        const lines = linesOf(said, name, said.side === null ? shared : own).length;
        const width = indentOf(said) + widthOf(withoutName(said.words, name), TEXT, said.strong ? "bold" : "regular");
        shown.set(said.key, (shown.get(said.key) ?? 0) + lines);
        const before = rows.get(said.key);
        rows.set(said.key, { key: said.key, side: said.side, strong: said.strong, weighs: said.warning || before?.weighs === "warning" ? "warning" : said.strong ? "strong" : "soft", y: said.y, lines: Math.max(lines, before?.lines ?? 0), width: Math.max(width, before?.width ?? 0), of: withoutName(said.words, name).replace(NUMBER_ON, "").replace(/\b[AB]\b/g, "") });
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
  /** What weighs least goes first where there is no room, and the last first; one set-up's number does not stay without the other's. */
  const fitted = (rows: readonly Row[], fits: (kept: readonly Row[], weighs: Weighs) => boolean): readonly Row[] => {
    let kept = rows;
    for (const weighs of WEIGHTS)
      while (!fits(kept, weighs)) {
        const last = kept.findLast((row) => row.weighs === weighs && !row.beside);
        if (last === undefined) break;
        if (weighs === "warning") throw new RangeError(`plate: there is no room for a warning of ${scene.title}, even beside the least picture; ask for a part of it, or shorten the title`);
        kept = kept.filter((row) => row.beside || row.weighs !== weighs || row.of !== last.of);
      }
    // What went first may have been longer than what was wanting.
    for (const of of new Set(rows.map((row) => row.of))) {
      const more = rows.filter((row) => kept.includes(row) || row.of === of);
      if (more.length > kept.length && fits(more, more.some((row) => row.of === of && row.weighs === "soft") ? "soft" : "strong")) kept = more;
    }
    return kept;
  };
  const [wide, tall] = [picture.right - picture.left, picture.bottom - picture.top];
  const spelled = (list: readonly Placed[]): Placed[] => list.filter(inPart).map((each) => ({ ...each, words: spell(each.words) }));
  const labels = spelled(first.taken.labels);
  const columns = spelled(first.taken.columns);

  // Bands that have headings stand apart, each under its own; what is said of a band then stands under that band.
  const alone = headings.every(({ y }, i) => i === 0 || chosen.some(([top]) => (headings[i - 1] as Placed).y < top && top <= y));
  const heads = [...(named || (chosen.length > 1 && !alone) ? [] : headings), ...columns];
  const apart = chosen.length > 1 && headings.length > 0 && alone;
  const blocks = (apart ? chosen : [[...band, picture] as Extent]).map(([top, bottom, each]) => {
    const within = ({ y }: { readonly y: number }): boolean => y >= top && y <= bottom;
    const grounds = ground.filter((y) => within({ y }));
    return { band: [top, bottom] as const, heads: heads.filter(within), box: apart ? { ...picture, top: each.top - STROKE, bottom: Math.max(each.bottom, ...grounds) + STROKE } : picture };
  });
  const owned = blocks.filter((block) => block.heads.length > 0).length > 1;
  /** Rows under each band; the last has those of all where they are not told apart. */
  const under = (rows: readonly Row[], i: number): readonly Row[] => (owned ? rows.filter(({ y }) => i === Math.max(0, blocks.findLastIndex((block) => block.band[0] <= y))) : i === blocks.length - 1 ? rows : []);

  /** The picture, and its words below it, those of the two bodies in two columns. */
  const below = (): Setting => {
    const heightOf = (list: readonly Row[]): number => {
      const lines = (side: Side): number => list.reduce((sum, row) => sum + (row.side === side ? row.lines : 0), 0);
      return LEADING * (Math.max(lines("a"), lines("b")) + pairsOf(list).reduce((sum, [row]) => sum + (row as Row).lines, 0));
    };
    const left = LIVE.left + Math.max(0, ...labels.map(({ words }) => widthOf(words, TEXT, "regular") + BESIDE));
    const largest = Math.min(LARGEST, (LIVE.right - left) / wide);
    const high = blocks.reduce((sum, { box: { top, bottom } }) => sum + bottom - top, 0);
    const fromX = (scale: number): number => (labels.length > 0 ? left - scale * picture.left : left + (LIVE.right - left - scale * (picture.left + picture.right)) / 2);
    // Heads of columns take as many lines as the longest needs; one alone has the whole width.
    const headsOf = (scale: number): { readonly lines: string[]; readonly x: number }[][] =>
      blocks.map((block) => {
        const starts = block.heads.map(({ x }, i) => (i === 0 && columns.length === 0 ? LIVE.left : fromX(scale) + x * scale));
        // Two headings side by side: the second makes room for the first, where that saves a line.
        const [first, second] = block.heads.map(({ words }) => widthOf(words, TEXT, "bold"));
        if (columns.length === 0 && starts.length === 2) starts[1] = Math.max(starts[1] as number, Math.min(LIVE.left + (first as number) + BESIDE, LIVE.right - (second as number)));
        return block.heads.map(({ words }, i) => ({ lines: broken(words, TEXT, "bold", (starts[i + 1] ?? LIVE.right + BESIDE) - BESIDE - (starts[i] as number)), x: starts[i] as number }));
      });
    const headHeight = (each: readonly { readonly lines: string[] }[]): number => LEADING * Math.max(0, ...each.map(({ lines }) => lines.length));
    const roomFor = (rows: readonly Row[], scale: number): number =>
      floor - head - (sides.length > 0 ? LEADING : 0) - blocks.reduce((sum, _, i) => sum + heightOf(under(rows, i)) + 2 * AIR, 0) - headsOf(scale).reduce((sum, each) => sum + headHeight(each), 0);
    const rows = fitted(rowsIn(COLUMN, SAFE_WIDTH), (kept, weighs) => roomFor(kept, largest) >= Math.min(LEAST_PICTURE[weighs], largest * high));
    // A smaller picture may need more lines for its heads, which make it smaller again.
    let scale = largest;
    for (let round = 0; round < 3; round++) scale = Math.min(largest, roomFor(rows, scale) / high);
    const set = headsOf(scale);
    const spare = Math.max(0, roomFor(rows, scale) - scale * high) / blocks.length;

    const spots = new Map<string, Spot>();
    const places: Partial<Record<Side, Spot>> = {};
    const pieces: Piece[] = [];
    const still: Words[] = [];
    let y = head;
    const keysHere = (): void => {
      if (sides.length === 0) return;
      for (const side of sides) places[side] = { x: columnOf(side), y, width: COLUMN };
      y += LEADING;
    };
    if (owned) keysHere();
    blocks.forEach((block, i) => {
      const each = set[i] as (typeof set)[number];
      const height = headHeight(each);
      // One head alone begins its band; several stand close over their columns.
      const top = y + AIR + height + spare / 2;
      for (const { lines, x } of each) still.push(...column(lines, each.length === 1 && blocks.length > 1 ? y : top - AIR - LEADING * lines.length, { role: "axis", x, weight: "bold" }).words);
      const bottom = top + scale * (block.box.bottom - block.box.top) + spare / 2 + AIR;
      pieces.push({ band: block.band, y: top - scale * block.box.top, foot: bottom });
      y = bottom;
      if (!owned && i === blocks.length - 1) keysHere();
      const own = under(rows, i);
      const feet = { a: y, b: y };
      for (const row of own)
        if (row.side !== null) {
          spots.set(row.key, { x: columnOf(row.side), y: feet[row.side], width: COLUMN });
          feet[row.side] += row.lines * LEADING;
        }
      y = Math.max(feet.a, feet.b);
      for (const pair of pairsOf(own)) {
        pair.forEach((row, k) => spots.set(row.key, { x: columnOf(k === 0 ? "a" : "b"), y, width: SAFE_WIDTH }));
        y += (pair[0] as Row).lines * LEADING;
      }
    });
    // Rows stand beside their labels.
    for (const { words, y: at } of labels) {
      const piece = pieces.findLast(({ band: [top] }) => top <= at) as Piece;
      still.push({ role: "axis", words, x: LIVE.left, y: piece.y + scale * (at - MIDDLE_OF_LABEL) + LEAST_CAP / 2, size: TEXT, weight: "regular", tone: "ink", anchor: "start" });
    }
    return { rows, from: { x: fromX(scale), scale }, pieces, names: places, spots, still };
  };

  /** The picture at the left, and all words beside it. */
  const beside = (): Setting => {
    const [top, bottom] = [head + AIR, floor - AIR];
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
    return { rows, from: { x: LIVE.left - scale * picture.left, scale }, pieces: [{ band, y: top + (bottom - top - scale * tall) / 2 - scale * picture.top, foot: bottom }], names: places, spots, still: [] };
  };

  const over = below();
  const next = labels.length + heads.length > 0 || ground.length > 0 ? undefined : beside();
  // A tall picture is shown larger beside its words, if none of them is lost by it; or as large, if more of them stay.
  const set = next !== undefined && (next.rows.length > over.rows.length ? next.from.scale >= over.from.scale : next.rows.length === over.rows.length && next.from.scale >= LARGER * over.from.scale) ? next : over;
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
    unkeyed,
    set,
    band,
    leftOut: [...headings.flatMap((each) => (named || heads.includes(each) ? [] : [each.words])), ...all.flatMap((key) => (set.spots.has(key) ? [] : (said.findLast((each) => each.key === key)?.words ?? [])))],
    parts: extents.length,
    whole: chosen.length === extents.length,
    caution,
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

/** A drawing without groups of some classes. */
const without = (nodes: readonly Node[], classes: readonly string[]): Node[] =>
  classes.length === 0 ? [...nodes] : nodes.flatMap((each) => (classesOf(each).some((name) => classes.includes(name)) ? [] : [{ ...each, children: each.children.flatMap((child): (Node | string)[] => (typeof child === "string" ? [child] : without([child], classes))) }]));

/** The picture of a planned scene at an instant. */
export const scenePlate = (plan: ScenePlan, instant: number, { paint }: Painter): Plate => {
  const { scene, state, write, names, keys, sides, set, band, whole, caution } = plan;
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
    const piece = set.pieces.findLast(({ band: [from] }) => from <= bar.y) as Piece;
    const top = i === 0 ? title.foot : Math.min(piece.y + from.scale * bar.y - ASCENT / 2, piece.foot - LEADING);
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
  const now = new Map(said.map((each) => [each.key, { ...each, words: spelt(each.words, names, { sides: plan.unkeyed, article: true }) }]));
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

  // The ground runs from edge to edge of what is safe, however large the picture is.
  const [left, right] = [(LIVE.left - from.x) / from.scale, (LIVE.right - from.x) / from.scale];
  const kept = new Set(set.rows.flatMap(({ key }) => NAMED.flatMap((name) => (key.split(/[ .]/).includes(name) ? [name] : []))));
  const unnamed = NAMED.filter((name) => !kept.has(name));
  const pictures = set.pieces.map((piece) => {
    const shown = without(whole && set.pieces.length === 1 ? art : inBand(art, piece.band), unnamed);
    const grounds = ground.filter((level) => level >= piece.band[0] && level <= piece.band[1]).map((level) => node("line", { x1: rounded(left), x2: rounded(right), y1: level, y2: level, class: "ground-line" }));
    return node("g", { transform: `translate(${rounded(from.x)},${rounded(piece.y)}) scale(${rounded(from.scale)})` }, [...grounds, ...shown]);
  });
  const thinnest = rounded(THINNEST / from.scale);
  words.push(...cautionAt(caution).words);
  return { title: plan.title, says: withCaution(scene.describe(state, instant, write), caution), art: [paint(pictures, "drawing", thinnest), paint(marks, "drawing")], words };
};
