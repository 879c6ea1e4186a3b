/**
 * The page's own style sheet laid on a drawing as plain attributes, so that an exported picture needs no style sheet. Rules about
 * what a reader does (hover, focus, scripts at work) and about paper do not concern a picture and are left out.
 */
import { node, type Node } from "../drawing.ts";

interface Compound {
  readonly tag: string | null;
  readonly classes: readonly string[];
}
/** `:is(...)`: one of these. */
type Step = { readonly any: readonly Compound[]; readonly child: boolean };

interface Rule {
  /** Last step first. */
  readonly steps: readonly Step[];
  readonly weight: number;
  readonly declarations: readonly (readonly [name: string, value: string])[];
}

export interface Styles {
  readonly rules: readonly Rule[];
  /** Custom properties of the page on light and on dark paper. */
  readonly light: Readonly<Record<string, string>>;
  readonly dark: Readonly<Record<string, string>>;
}

const declarationsOf = (body: string): (readonly [string, string])[] =>
  body.split(";").flatMap((part) => {
    const colon = part.indexOf(":");
    return colon < 0 ? [] : [[part.slice(0, colon).trim(), part.slice(colon + 1).trim()] as const];
  });

/** Splits at a mark that stands outside brackets. */
const split = (text: string, mark: RegExp): string[] => {
  const parts: string[] = [];
  let depth = 0;
  let from = 0;
  for (let i = 0; i < text.length; i++) {
    const c = text[i] as string;
    if (c === "(") depth++;
    else if (c === ")") depth--;
    else if (depth === 0 && mark.test(c)) {
      parts.push(text.slice(from, i));
      from = i + 1;
    }
  }
  return [...parts, text.slice(from)].map((part) => part.trim()).filter((part) => part !== "");
};

const compoundOf = (text: string): Compound | null => {
  const match = /^(\*|[a-zA-Z][\w-]*)?((?:\.[\w-]+)*)$/.exec(text);
  if (!match || text === "") return null;
  return { tag: match[1] === undefined || match[1] === "*" ? null : match[1], classes: (match[2] ?? "").split(".").slice(1) };
};

const stepOf = (text: string, child: boolean): Step | null => {
  const list = /^:is\((.*)\)$/.exec(text);
  const any = (list ? split(list[1] as string, /,/) : [text]).map(compoundOf);
  return any.some((each) => each === null) ? null : { any: any as Compound[], child };
};

/** A selector that says only what stands in what; null for any other. */
const selectorOf = (text: string): { readonly steps: Step[]; readonly weight: number } | null => {
  const steps: Step[] = [];
  let child = false;
  for (const part of split(text.replace(/>/g, " > "), /\s/)) {
    if (part === ">") {
      child = true;
      continue;
    }
    const step = stepOf(part, child);
    if (step === null) return null;
    steps.push(step);
    child = false;
  }
  const weight = steps.reduce((sum, { any }) => sum + Math.max(...any.map(({ tag, classes }) => 100 * classes.length + (tag === null ? 0 : 1))), 0);
  return { steps: steps.reverse(), weight };
};

/** Top-level blocks of a style sheet. */
const blocksOf = (css: string): { readonly head: string; readonly body: string }[] => {
  const blocks: { head: string; body: string }[] = [];
  let depth = 0;
  let from = 0;
  let head = "";
  for (let i = 0; i < css.length; i++) {
    if (css[i] === "{" && depth++ === 0) {
      head = css.slice(from, i).trim();
      from = i + 1;
    } else if (css[i] === "}" && --depth === 0) {
      blocks.push({ head, body: css.slice(from, i) });
      from = i + 1;
    }
  }
  return blocks;
};

/** Reads the style sheets of the page: tokens first, as the page has them. */
export const readStyles = (css: string): Styles => {
  const rules: Rule[] = [];
  const light: Record<string, string> = {};
  const dark: Record<string, string> = {};
  for (const { head, body } of blocksOf(css.replace(/\/\*[\s\S]*?\*\//g, ""))) {
    if (head.startsWith("@")) {
      if (/prefers-color-scheme:\s*dark/.test(head)) for (const inner of blocksOf(body)) if (inner.head === ":root") Object.assign(dark, Object.fromEntries(declarationsOf(inner.body)));
      continue;
    }
    const declarations = declarationsOf(body);
    if (head === ":root") Object.assign(light, Object.fromEntries(declarations));
    else
      for (const each of split(head, /,/)) {
        const selector = selectorOf(each);
        if (selector) rules.push({ ...selector, declarations });
      }
  }
  // Later rules win over earlier ones of the same weight: the sort keeps their order.
  rules.sort((p, q) => p.weight - q.weight);
  return { rules, light, dark: { ...light, ...dark } };
};

interface Place {
  readonly tag: string;
  readonly classes: readonly string[];
  readonly parent: Place | null;
  /** Custom properties as they stand here. */
  readonly custom: Readonly<Record<string, string>>;
  readonly attributes: Readonly<Record<string, string>>;
  readonly inside: Map<string, Place>;
}

const fits = (place: Place, { any }: Step): boolean => any.some(({ tag, classes }) => (tag === null || tag === place.tag) && classes.every((name) => place.classes.includes(name)));

const matches = (place: Place, steps: readonly Step[], from = 0): boolean => {
  const step = steps[from] as Step;
  if (!fits(place, step)) return false;
  if (from + 1 === steps.length) return true;
  if (step.child) return place.parent !== null && matches(place.parent, steps, from + 1);
  for (let above = place.parent; above !== null; above = above.parent) if (matches(above, steps, from + 1)) return true;
  return false;
};

/** What a picture shows of a style; the rest is about type, which is outlined, and about the page. */
const SHOWN = new Set(["fill", "fill-opacity", "fill-rule", "stroke", "stroke-width", "stroke-opacity", "stroke-dasharray", "stroke-linecap", "stroke-linejoin", "opacity", "visibility", "display", "paint-order", "color"]);

const resolved = (value: string, custom: Readonly<Record<string, string>>): string => {
  const at = value.indexOf("var(");
  if (at < 0) return value;
  let depth = 0;
  let end = at + 3;
  for (; end < value.length; end++) {
    if (value[end] === "(") depth++;
    else if (value[end] === ")" && --depth === 0) break;
  }
  const [name = "", ...fallback] = value.slice(at + 4, end).split(",");
  const found = custom[name.trim()] ?? fallback.join(",").trim();
  return resolved(value.slice(0, at) + resolved(found, custom) + value.slice(end + 1), custom);
};

/** Colours of the picture where they are not those of the page. */
export type Colours = Readonly<Record<string, string>>;

export interface Painter {
  readonly colours: Colours;
  /** Nodes of a drawing whose svg has the class `root`, painted; no stroke thinner than `thinnest`. */
  readonly paint: (nodes: readonly Node[], root: string, thinnest?: number) => Node;
}

/** Paints with the page's light or dark colours. Each kind of place is matched once. */
export const painter = (styles: Styles, ground: "light" | "dark"): Painter => {
  const placeIn = (parent: Place | null, tag: string, className: string): Place => {
    const classes = className.split(/\s+/).filter((name) => name !== "");
    const bare: Place = { tag, classes, parent, custom: {}, attributes: {}, inside: new Map() };
    const said: Record<string, string> = {};
    for (const { steps, declarations } of styles.rules) if (matches(bare, steps)) for (const [name, value] of declarations) said[name] = value.replace(/\s*!important$/, "");
    const custom: Record<string, string> = { ...(parent?.custom ?? styles[ground]) };
    for (const [name, value] of Object.entries(said)) if (name.startsWith("--")) custom[name] = resolved(value, custom);
    const attributes: Record<string, string> = {};
    for (const [name, value] of Object.entries(said)) if (SHOWN.has(name)) attributes[name] = resolved(value, custom).replace(/(\d)px\b/g, "$1");
    return { ...bare, custom, attributes };
  };
  const within = (parent: Place, tag: string, className: string): Place => {
    const key = `${tag} ${className}`;
    let place = parent.inside.get(key);
    if (place === undefined) parent.inside.set(key, (place = placeIn(parent, tag, className)));
    return place;
  };
  const roots = new Map<string, Place>();
  const painted = (each: Node | string, parent: Place, thinnest: number): Node | string => {
    if (typeof each === "string") return each;
    const { class: className = "", ...rest } = each.attributes;
    const place = within(parent, each.tag, String(className));
    const attributes: Record<string, string | number> = { ...rest, ...place.attributes };
    if (Number(attributes["stroke-width"]) < thinnest) attributes["stroke-width"] = thinnest;
    return { tag: each.tag, attributes, children: each.children.map((child) => painted(child, place, thinnest)) };
  };
  return {
    colours: styles[ground],
    paint: (nodes, root, thinnest = 0) => {
      let place = roots.get(root);
      if (place === undefined) roots.set(root, (place = placeIn(null, "svg", root)));
      const top = place;
      const { display: _, ...attributes } = top.attributes;
      return node("g", attributes, nodes.map((each) => painted(each, top, thinnest) as Node));
    },
  };
};
