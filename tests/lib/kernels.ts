/** What the generated tests need to know of the kernels: their doc comments, their functions, units, and valid inputs. */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { readDocComments, type DocComment, type DocValue } from "../../build/docComments.ts";
import { UNITS, type Dimension } from "../../lib/units.ts";

export type Args = Record<string, unknown>;
type AnyFunction = (...args: unknown[]) => unknown;

export const LIB = fileURLToPath(new URL("../../lib", import.meta.url));

/** Ground that kernels stand on; no kernels themselves. */
const GROUND = /^(?:check|units|constants|index)\.ts$|^math\//;

export const documented: readonly DocComment[] = readDocComments(LIB);

const load = (path: string): Promise<Record<string, unknown>> => import(pathToFileURL(join(LIB, path)).href) as Promise<Record<string, unknown>>;
const paths = readdirSync(LIB, { recursive: true, encoding: "utf8" }).filter((path) => path.endsWith(".ts"));
const modules = await Promise.all(paths.map(async (path) => ({ path, ...(await load(path).then((members) => ({ members, fault: undefined }), (fault: unknown) => ({ members: {}, fault }))) })));

/** Files of lib that do not load, and why. */
export const broken: readonly string[] = modules.flatMap(({ path, fault }) => (fault === undefined ? [] : [`lib/${path}: ${String(fault)}`]));

/** What the contents page exports. */
export const index: Readonly<Record<string, unknown>> = modules.find(({ path }) => path === "index.ts")?.members ?? {};

/** Everything exported in lib. A name that the contents page leaves out is still found in its own file. */
export const lib: Readonly<Record<string, unknown>> = Object.assign({}, ...modules.map(({ members }) => members), index) as Record<string, unknown>;

/** Exported by the contents page, or documented as a kernel in a topic's folder. */
export const kernels: readonly DocComment[] = documented.filter(({ file, name, returns, sources, equations }) => !GROUND.test(file) && (name in index || returns.length + sources.length + equations.length > 0));

// ---------------------------------------------------------------- examples

/** Evaluates an example with every export of lib in scope; `seen` is told of each call of a lib function. */
export const evaluate = (code: string, seen?: (name: string, args: readonly unknown[], result: unknown) => void): unknown => {
  const scope: Record<string, unknown> = { ...lib };
  if (seen)
    for (const [name, member] of Object.entries(lib))
      if (typeof member === "function" && !/^class\b/.test(String(member)))
        scope[name] = (...args: unknown[]) => {
          const result = (member as AnyFunction)(...args);
          seen(name, args, result);
          return result;
        };
  return (new Function(...Object.keys(scope), `"use strict"; return (${code.replace(/;\s*$/, "")});`) as AnyFunction)(...Object.values(scope));
};

/** Arguments with which a kernel's own examples call it. */
export const exampleCalls = (kernel: DocComment): readonly (readonly unknown[])[] => {
  const calls: (readonly unknown[])[] = [];
  for (const { code } of kernel.examples) evaluate(code, (name, args) => name === kernel.name && calls.push(args));
  return calls;
};

export const call = (kernel: DocComment, args: Args): unknown => {
  const found = lib[kernel.name];
  if (typeof found !== "function") throw new Error(`${kernel.name}: lib/${kernel.file} does not load, or does not export it`);
  return (found as AnyFunction)(args);
};

// ---------------------------------------------------------------- leaves

export interface Leaf {
  /** Dotted path without array indices, as in the doc comment. */
  readonly path: string;
  readonly value: unknown;
}

const isSeries = (value: unknown): value is ArrayLike<unknown> => Array.isArray(value) || (ArrayBuffer.isView(value) && !(value instanceof DataView));
const isObject = (value: unknown): value is Record<string, unknown> => typeof value === "object" && value !== null && !isSeries(value);
const under = (path: string, key: string): string => (path === "" ? key : `${path}.${key}`);

/** Copy of a value with every leaf replaced. Typed arrays become plain ones where a leaf is no longer a number. */
export const mapLeaves = (value: unknown, replace: (value: unknown, path: string, place: string) => unknown, path = "", place = ""): unknown => {
  if (isSeries(value)) {
    const mapped = Array.from(value, (item, i) => mapLeaves(item, replace, path, `${place}[${i}]`));
    return value instanceof Float64Array && mapped.every((item) => typeof item === "number") ? Float64Array.from(mapped) : mapped;
  }
  if (isObject(value)) return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, mapLeaves(item, replace, under(path, key), under(place, key))]));
  return replace(value, path, place);
};

export const leaves = (value: unknown): (Leaf & { readonly place: string })[] => {
  const found: (Leaf & { readonly place: string })[] = [];
  mapLeaves(value, (leaf, path, place) => {
    found.push({ path, place, value: leaf });
    return leaf;
  });
  return found;
};

/** Value at a dotted path. */
export const at = (value: unknown, path: string): unknown => path.split(".").reduce<unknown>((inside, key) => (isObject(inside) ? inside[key] : undefined), value);

/** Sets a dotted path, making the objects on the way. */
export const put = (into: Args, path: string, value: unknown): void => {
  const keys = path.split(".");
  const last = keys.pop() as string;
  let inside: Record<string, unknown> = into;
  for (const key of keys) inside = (isObject(inside[key]) ? inside[key] : (inside[key] = {})) as Record<string, unknown>;
  inside[last] = value;
};

/** The doc line that covers a path: its own, else that of the nearest object around it. */
export const docOf = (lines: readonly DocValue[], path: string): DocValue | undefined => {
  for (let name = path; name !== ""; name = name.slice(0, Math.max(0, name.lastIndexOf(".")))) {
    const line = lines.find((candidate) => candidate.name === name);
    if (line) return line;
  }
  return undefined;
};

// ---------------------------------------------------------------- units

const BASE: Readonly<Record<string, Dimension>> = { "1": UNITS["1"].dimension, rad: UNITS.rad.dimension, kg: UNITS.kg.dimension, m: UNITS.m.dimension, s: UNITS.s.dimension, Hz: UNITS.Hz.dimension, gn: UNITS.gn.dimension, N: UNITS.N.dimension, J: UNITS.J.dimension, W: UNITS.W.dimension, Pa: [1, -1, -2] };

/** Powers of kilogram, metre and second of an SI unit such as `N s/m^2`, `rad/s`, `kg m^2`. Undefined: not such a unit. */
export const dimensionOf = (unit: string): Dimension | undefined => {
  const sum = [0, 0, 0];
  let rest = unit.trim();
  let sign = 1;
  let denominators = 0;
  while (rest !== "") {
    const factor = /^(1|rad|kg|gn|Hz|Pa|[msNJW])(?:\^(-?\d+(?:\.\d+)?))?/.exec(rest);
    if (!factor) return undefined;
    (BASE[factor[1] as string] as Dimension).forEach((power, i) => (sum[i] = (sum[i] as number) + sign * power * Number(factor[2] ?? 1)));
    rest = rest.slice(factor[0].length);
    const next = /^(\s*[·*]\s*|\s*\/\s*|\s+)/.exec(rest);
    if (rest !== "" && !next) return undefined;
    rest = rest.slice(next?.[0].length ?? 0);
    if (next && rest === "") return undefined;
    if (next?.[0].includes("/")) {
      sign = -1;
      denominators++;
    } else if (next && denominators > 0) return undefined; // `J/kg m` can be read in two ways
  }
  return unit.trim() === "" ? undefined : [sum[0] as number, sum[1] as number, sum[2] as number];
};

// ---------------------------------------------------------------- valid inputs

/** Small seeded generator of uniform numbers in [0, 1) (mulberry32, from memory), so that a failure can be run again. */
export const seeded = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};

const NUMBER = String.raw`-?\d+(?:\.\d+)?(?:e-?\d+)?`;

/** The default that a parameter's text names, as a number or as a constant of lib. */
export const defaultOf = (text: string): number | undefined => {
  const found = new RegExp(`\\bdefaults?\\b(?: is| to|:)? (${NUMBER}|[A-Z][A-Z0-9_]+)`).exec(text)?.[1];
  const value = found === undefined ? undefined : found in lib ? lib[found] : Number(found);
  return typeof value === "number" && Number.isFinite(value) ? value : undefined;
};

/** Bounds that a parameter's text states: `> 0`, `>= 0`, `<= 1`, `between 0 and 1`, `0..1`, `from 0 to 1`. */
export const boundsOf = (text: string): { readonly from: number | undefined; readonly to: number | undefined } => {
  const both = new RegExp(`(?:between |from )?(${NUMBER})\\s*(?:\\.\\.|\\band\\b|\\bto\\b|\\s<=? [\\w.]+ <=?)\\s*(${NUMBER})`).exec(text);
  if (both) return { from: Number(both[1]), to: Number(both[2]) };
  const one = (sign: string): number | undefined => {
    const found = new RegExp(`${sign}=? ?(${NUMBER})`).exec(text)?.[1];
    return found === undefined ? undefined : Number(found);
  };
  return { from: one(">"), to: one("<") };
};

/** The closed list of numbers that a parameter's text starts with: `60, 180 or 600`. */
export const listOf = (text: string): readonly number[] => new RegExp(`^(?:${NUMBER}, )*${NUMBER} or ${NUMBER}\\b`).exec(text)?.[0].split(/, | or /).map(Number) ?? [];

/** A number near `likely` that keeps the stated bounds. */
const near = (likely: number, { from, to }: { readonly from: number | undefined; readonly to: number | undefined }, random: () => number): number => {
  if (from !== undefined && to !== undefined) return from + random() * (to - from);
  const SPREAD = 3; // enough to leave the neighbourhood of the example, not enough to leave the model
  if (from !== undefined) {
    const above = likely - from;
    return from + (above > 0 ? above : 1) * SPREAD ** (2 * random() - 1);
  }
  if (to !== undefined) {
    const below = to - likely;
    return to - (below > 0 ? below : 1) * SPREAD ** (2 * random() - 1);
  }
  return (likely === 0 ? 1 : likely) * (3 * random() - 1.5);
};

/** Arguments with one more, if the kernel takes it: some inputs exclude each other. */
const tried = (kernel: DocComment, args: Args, name: string, value: number): Args => {
  const parent = name.includes(".") ? at(args, name.slice(0, name.lastIndexOf("."))) : args;
  if (!isObject(parent) || at(args, name) !== undefined) return args;
  const fuller = mapLeaves(args, (leaf) => leaf) as Args;
  put(fuller, name, value);
  try {
    call(kernel, fuller);
    return fuller;
  } catch {
    return args;
  }
};

/** Arguments with every default that the doc comment names written out, so that no constant stays hidden, and optional inputs with an `@sample`. */
export const withDefaults = (kernel: DocComment, args: Args): Args => {
  let full = args;
  for (const { name, text } of kernel.params) {
    const value = defaultOf(text);
    if (value !== undefined) full = tried(kernel, full, name, value);
  }
  for (const { name, from, to } of kernel.samples) full = tried(kernel, full, name, (from + to) / 2);
  return full;
};

/** Random arguments: those of an example with every number drawn anew, from its `@sample` line or around its value within the stated bounds. */
export const draw = (kernel: DocComment, example: Args, random: () => number): Args => {
  const full = withDefaults(kernel, example);
  const stretch = new Map<string, number>();
  const drawn = mapLeaves(full, (leaf, path, place) => {
    if (typeof leaf !== "number") return leaf;
    const sample = kernel.samples.find(({ name }) => name === path);
    if (sample) return sample.from + random() * (sample.to - sample.from);
    const line = docOf(kernel.params, path);
    if (!line || line.unit === "" || /\b(?:integer|whole|index|count)\b/.test(line.text)) return leaf;
    const list = listOf(line.text);
    if (list.length > 0) return list[Math.floor(random() * list.length)];
    if (!place.includes("[")) return near(leaf, boundsOf(line.text), random);
    // a series keeps its shape (it may have to rise): all of it is stretched at once
    if (!stretch.has(path)) stretch.set(path, 0.8 + 0.4 * random());
    return leaf * (stretch.get(path) as number);
  }) as Args;
  const ordered = (value: unknown, path: string): unknown => {
    if (isSeries(value) && /\b(?:increasing|rising|ascending|rise)\b/.test(docOf(kernel.params, path)?.text ?? "") && Array.from(value).every((v) => typeof v === "number"))
      return Array.from(value as ArrayLike<number>).sort((x, y) => x - y);
    return isObject(value) ? Object.fromEntries(Object.entries(value).map(([key, inside]) => [key, ordered(inside, under(path, key))])) : value;
  };
  return ordered(drawn, "") as Args;
};

/** Draws valid inputs and calls the kernel: up to `wanted` accepted ones. A RangeError is the kernel refusing a draw; any other error is a fault. */
export const accepted = (kernel: DocComment, wanted: number, tries: number): { readonly args: Args; readonly result: unknown }[] => {
  const examples = exampleCalls(kernel).map(([args]) => args as Args);
  if (examples.length === 0) throw new Error(`${kernel.name}: no @example calls it, so no valid input is known`);
  const random = seeded(hash(kernel.name));
  const found: { args: Args; result: unknown }[] = [];
  for (let i = 0; i < tries && found.length < wanted; i++) {
    const args = draw(kernel, examples[i % examples.length] as Args, random);
    try {
      found.push({ args, result: call(kernel, args) });
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
    }
  }
  return found;
};

const hash = (text: string): number => [...text].reduce((sum, c) => (Math.imul(sum, 31) + c.charCodeAt(0)) >>> 0, 7);
