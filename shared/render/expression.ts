/**
 * The plain expressions of `@equation` lines: read once, evaluated with the present numbers, typeset as MathML.
 * Grammar: + - * / ^, calls of a few functions, dotted names, numbers. Nothing is ever run as code.
 */
import { escape, spaced } from "./html.ts";

type Operator = "+" | "-" | "*" | "/" | "^";

export type Expression =
  | { readonly type: "number"; readonly value: number }
  | { readonly type: "name"; readonly name: string }
  | { readonly type: "negate"; readonly of: Expression }
  | { readonly type: "binary"; readonly operator: Operator; readonly left: Expression; readonly right: Expression }
  | { readonly type: "call"; readonly name: string; readonly of: readonly Expression[] };

const FUNCTIONS: Readonly<Record<string, (...of: number[]) => number>> = {
  sqrt: Math.sqrt,
  exp: Math.exp,
  log: Math.log,
  abs: Math.abs,
  sign: Math.sign,
  min: Math.min,
  max: Math.max,
  hypot: Math.hypot,
  sin: Math.sin,
  cos: Math.cos,
  tan: Math.tan,
  asin: Math.asin,
  acos: Math.acos,
  atan: Math.atan,
  atan2: Math.atan2,
};
const CONSTANTS: Readonly<Record<string, number>> = { pi: Math.PI };

/** How tightly each sign binds. */
const LEVEL: Readonly<Record<Operator, number>> = { "+": 1, "-": 1, "*": 2, "/": 2, "^": 4 };
/** A sign before a term binds tighter than * and looser than ^: -a^2 is -(a^2). */
const SIGNED = 3;
const ATOM = 5;

const TOKEN = /\s*(?:(\d+\.?\d*(?:e[-+]?\d+)?|\.\d+(?:e[-+]?\d+)?)|([a-z_]\w*(?:\.\w+)*)|(\S))/gi;

/** Reads an expression, or throws a SyntaxError that says where. */
export const parseExpression = (text: string): Expression => {
  const tokens = [...text.trim().matchAll(TOKEN)];
  let i = 0;
  const fail = (): never => {
    throw new SyntaxError(`expression: cannot read ${JSON.stringify(text)} at ${JSON.stringify(tokens[i]?.[0].trim() ?? "its end")}`);
  };
  const take = (sign: string): void => {
    if (tokens[i]?.[3] !== sign) fail();
    i++;
  };
  const primary = (): Expression => {
    const [, number, name, sign] = tokens[i] ?? fail();
    i++;
    if (number !== undefined) return { type: "number", value: Number(number) };
    if (name !== undefined && tokens[i]?.[3] === "(") {
      if (!Object.hasOwn(FUNCTIONS, name)) throw new SyntaxError(`expression: ${name} is not a function; there are ${Object.keys(FUNCTIONS).join(", ")}`);
      const of: Expression[] = [];
      do {
        i++;
        of.push(binary(1));
      } while (tokens[i]?.[3] === ",");
      take(")");
      return { type: "call", name, of };
    }
    if (name !== undefined) return { type: "name", name };
    if (sign === "(") {
      const inside = binary(1);
      take(")");
      return inside;
    }
    if (sign === "-") return { type: "negate", of: binary(SIGNED) };
    if (sign === "+") return binary(SIGNED);
    i--;
    return fail();
  };
  const binary = (least: number): Expression => {
    let left = primary();
    for (;;) {
      const operator = tokens[i]?.[3] as Operator | undefined;
      const level = operator !== undefined && Object.hasOwn(LEVEL, operator) ? LEVEL[operator] : 0;
      if (operator === undefined || level < least) return left;
      i++;
      // A power binds to the right: 2^3^2 is 2^9.
      left = { type: "binary", operator, left, right: binary(operator === "^" ? SIGNED : level + 1) };
    }
  };
  const whole = binary(1);
  return i < tokens.length ? fail() : whole;
};

/** Value of a dotted path (`a.mass`) in the arguments of a kernel. */
export const valueAt = (input: unknown, path: string): unknown => path.split(".").reduce<unknown>((at, key) => (at as Record<string, unknown> | undefined | null)?.[key], input);

/** The number of an expression, with names looked up in `input`; NaN where a name has no number there. */
export const evaluateExpression = (e: Expression, input: unknown): number => {
  switch (e.type) {
    case "number":
      return e.value;
    case "name": {
      const value = valueAt(input, e.name);
      return typeof value === "number" ? value : (CONSTANTS[e.name] ?? Number.NaN);
    }
    case "negate":
      return -evaluateExpression(e.of, input);
    case "call":
      return FUNCTIONS[e.name]?.(...e.of.map((one) => evaluateExpression(one, input))) ?? Number.NaN;
    case "binary": {
      const left = evaluateExpression(e.left, input);
      const right = evaluateExpression(e.right, input);
      return e.operator === "+" ? left + right : e.operator === "-" ? left - right : e.operator === "*" ? left * right : e.operator === "/" ? left / right : left ** right;
    }
  }
};

/** Every name, once, in the order of first use. */
export const namesIn = (expression: Expression): string[] => {
  const found = new Set<string>();
  const walk = (e: Expression): void => {
    if (e.type === "name" && !Object.hasOwn(CONSTANTS, e.name)) found.add(e.name);
    else if (e.type === "negate") walk(e.of);
    else if (e.type === "call") e.of.forEach(walk);
    else if (e.type === "binary") [e.left, e.right].forEach(walk);
  };
  walk(expression);
  return [...found];
};

/** A name as words, with the body as an index: `a.mass` is mass of A. The index is HTML, which every face sets alike. */
export const nameHtml = (name: string): string => {
  const parts = name.split(/\.|\[|\]\.?/).filter((part) => part !== "");
  const isBody = (part: string): boolean => part === "a" || part === "b";
  const words = parts
    .filter((part) => !isBody(part))
    .map(spaced)
    .join(" ");
  const body = parts.filter(isBody).join("").toUpperCase();
  return words === "" ? escape(name) : `${escape(words)}${body === "" ? "" : `<sub>${body}</sub>`}`;
};

/** In a span of its own: what stands directly in a token of MathML is laid out as a block. */
export const nameMath = (name: string): string => `<mtext><span>${nameHtml(name)}</span></mtext>`;

const SIGN = { "+": "+", "-": "\u2212", "*": "\u00b7" } as const;

/** A fraction bar groups by itself. */
const levelOf = (e: Expression): number => (e.type === "binary" ? (e.operator === "/" ? ATOM : LEVEL[e.operator]) : e.type === "negate" ? LEVEL["-"] : ATOM);

/** MathML of an expression; `leaf` writes its names: as words, or as their present numbers. */
export const toMath = (e: Expression, leaf: (name: string) => string): string => {
  const math = (inner: Expression): string => toMath(inner, leaf);
  const brackets = (inside: string): string => `<mrow><mo>(</mo>${inside}<mo>)</mo></mrow>`;
  const group = (inner: Expression, least: number): string => (levelOf(inner) < least ? brackets(math(inner)) : math(inner));
  switch (e.type) {
    case "number":
      return `<mn>${e.value}</mn>`;
    case "name":
      return e.name === "pi" ? "<mi>\u03c0</mi>" : leaf(e.name);
    case "negate":
      return `<mrow><mo form="prefix">\u2212</mo>${group(e.of, LEVEL["*"])}</mrow>`;
    case "call":
      if (e.name === "sqrt") return `<msqrt>${e.of.map(math).join("")}</msqrt>`;
      if (e.name === "abs") return `<mrow><mo>|</mo>${e.of.map(math).join("")}<mo>|</mo></mrow>`;
      return `<mrow><mi>${escape(e.name)}</mi>${brackets(e.of.map(math).join("<mo>,</mo>"))}</mrow>`;
    case "binary": {
      if (e.operator === "/") return `<mfrac>${math(e.left)}${math(e.right)}</mfrac>`;
      if (e.operator === "^") return `<msup>${e.left.type === "binary" || e.left.type === "negate" ? brackets(math(e.left)) : math(e.left)}${math(e.right)}</msup>`;
      const level = LEVEL[e.operator];
      return `<mrow>${group(e.left, level)}<mo>${SIGN[e.operator]}</mo>${group(e.right, level + (e.operator === "-" || e.right.type === "negate" ? 1 : 0))}</mrow>`;
    }
  }
};
