/**
 * The plain expressions of `@equation` lines: read once, evaluated with the present numbers, and typeset as MathML.
 * Grammar: + - * / ^, comparison with `? :`, calls of a few functions, dotted names, numbers.
 */
import { escape, spaced } from "./html.ts";

export type Expression =
  | { readonly type: "number"; readonly value: number }
  | { readonly type: "name"; readonly name: string }
  | { readonly type: "negative"; readonly of: Expression }
  | { readonly type: "binary"; readonly sign: string; readonly left: Expression; readonly right: Expression }
  | { readonly type: "choice"; readonly test: Expression; readonly yes: Expression; readonly no: Expression }
  | { readonly type: "call"; readonly name: string; readonly of: readonly Expression[] };

const FUNCTIONS: Readonly<Record<string, (...of: number[]) => number>> = { sqrt: Math.sqrt, exp: Math.exp, log: Math.log, abs: Math.abs, min: Math.min, max: Math.max, sin: Math.sin, cos: Math.cos, tan: Math.tan, asin: Math.asin, acos: Math.acos, atan: Math.atan, atan2: Math.atan2 };
const CONSTANTS: Readonly<Record<string, number>> = { pi: Math.PI };

/** How tightly each sign binds. */
const LEVEL: Readonly<Record<string, number>> = { "==": 1, "!=": 1, "<": 2, "<=": 2, ">": 2, ">=": 2, "+": 3, "-": 3, "*": 4, "/": 4, "^": 6 };
const UNARY_LEVEL = 5;

/** Reads an expression, or throws a SyntaxError that says where. */
export const parseExpression = (text: string): Expression => {
  const tokens = [...text.matchAll(/\s*(?:(\d+\.?\d*(?:e[-+]?\d+)?|\.\d+(?:e[-+]?\d+)?)|([A-Za-z_]\w*(?:\.\w+|\[\d+\])*)|(<=|>=|==|!=|[-+*/^()<>?:,])|(\S))/gi)];
  let i = 0;
  const fail = (): never => {
    throw new SyntaxError(`expression: cannot read ${JSON.stringify(text)} at ${JSON.stringify(tokens[i]?.[0].trim() ?? "its end")}`);
  };
  const sign = (): string | undefined => tokens[i]?.[3];
  const take = (wanted: string): void => {
    if (sign() !== wanted) fail();
    i++;
  };
  const primary = (): Expression => {
    const token = tokens[i];
    if (token === undefined) return fail();
    i++;
    if (token[1] !== undefined) return { type: "number", value: Number(token[1]) };
    if (token[2] !== undefined) {
      if (sign() !== "(") return { type: "name", name: token[2] };
      i++;
      const of = [choice()];
      while (sign() === ",") {
        i++;
        of.push(choice());
      }
      take(")");
      return { type: "call", name: token[2], of };
    }
    if (token[3] === "(") {
      const inside = choice();
      take(")");
      return inside;
    }
    if (token[3] === "-") return { type: "negative", of: binary(UNARY_LEVEL) };
    if (token[3] === "+") return binary(UNARY_LEVEL);
    i--;
    return fail();
  };
  const binary = (least: number): Expression => {
    let left = primary();
    for (;;) {
      const next = sign();
      const level = next === undefined ? undefined : LEVEL[next];
      if (next === undefined || level === undefined || level < least) return left;
      i++;
      // A power binds to the right: 2^3^2 is 2^9.
      left = { type: "binary", sign: next, left, right: binary(next === "^" ? UNARY_LEVEL : level + 1) };
    }
  };
  const choice = (): Expression => {
    const test = binary(1);
    if (sign() !== "?") return test;
    i++;
    const yes = choice();
    take(":");
    return { type: "choice", test, yes, no: choice() };
  };
  const whole = choice();
  return i < tokens.length ? fail() : whole;
};

/** Value of a dotted path (`a.mass`, `points[2]`) in the arguments of a kernel. */
export const valueAt = (input: unknown, path: string): unknown => path.split(/\.|\[|\]\.?/).reduce<unknown>((at, key) => (key === "" ? at : (at as Record<string, unknown> | undefined | null)?.[key]), input);

/** The expression's number, with names looked up in `input`; NaN where a name has no number. */
export const evaluateExpression = (expression: Expression, input: unknown): number => {
  const of = (e: Expression): number => evaluateExpression(e, input);
  switch (expression.type) {
    case "number":
      return expression.value;
    case "name": {
      const value = valueAt(input, expression.name);
      return typeof value === "number" ? value : (CONSTANTS[expression.name] ?? Number.NaN);
    }
    case "negative":
      return -of(expression.of);
    case "call":
      return FUNCTIONS[expression.name]?.(...expression.of.map(of)) ?? Number.NaN;
    case "choice":
      return of(expression.test) !== 0 ? of(expression.yes) : of(expression.no);
    case "binary": {
      const left = of(expression.left);
      const right = of(expression.right);
      switch (expression.sign) {
        case "+":
          return left + right;
        case "-":
          return left - right;
        case "*":
          return left * right;
        case "/":
          return left / right;
        case "^":
          return left ** right;
        case "<":
          return Number(left < right);
        case "<=":
          return Number(left <= right);
        case ">":
          return Number(left > right);
        case ">=":
          return Number(left >= right);
        case "==":
          return Number(left === right);
        default:
          return Number(left !== right);
      }
    }
  }
};

/** Every name in the order of its first use, constants left out. */
export const namesIn = (expression: Expression): string[] => {
  const found = new Set<string>();
  const walk = (e: Expression): void => {
    if (e.type === "name" && !(e.name in CONSTANTS)) found.add(e.name);
    else if (e.type === "negative") walk(e.of);
    else if (e.type === "call") e.of.forEach(walk);
    else if (e.type === "binary") [e.left, e.right].forEach(walk);
    else if (e.type === "choice") [e.test, e.yes, e.no].forEach(walk);
  };
  walk(expression);
  return [...found];
};

/** A name as words: `a.mass` is mass with index a. */
export const nameMath = (name: string): string => {
  const parts = name.split(".");
  const body = parts.filter((part) => part === "a" || part === "b");
  const words = parts.filter((part) => part !== "a" && part !== "b").map(spaced).join(" ");
  const base = `<mtext>${escape(words === "" ? name : words)}</mtext>`;
  return words !== "" && body.length > 0 ? `<msub>${base}<mi>${body.join("")}</mi></msub>` : base;
};

const WRITTEN_SIGN: Readonly<Record<string, string>> = { "-": "\u2212", "*": "\u00b7", "<": "&lt;", "<=": "\u2264", ">": "&gt;", ">=": "\u2265", "==": "=", "!=": "\u2260" };

const levelOf = (e: Expression): number => (e.type === "binary" ? (e.sign === "/" ? 9 : (LEVEL[e.sign] ?? 9)) : e.type === "negative" ? LEVEL["-"] ?? 3 : e.type === "choice" ? 0 : 9);

/** MathML of an expression. `leaf` writes names: as words, or as their present numbers. */
export const toMath = (expression: Expression, leaf: (name: string) => string): string => {
  const math = (e: Expression): string => toMath(e, leaf);
  const group = (e: Expression, least: number): string => (levelOf(e) < least ? `<mrow><mo>(</mo>${math(e)}<mo>)</mo></mrow>` : math(e));
  const e = expression;
  switch (e.type) {
    case "number":
      return `<mn>${e.value}</mn>`;
    case "name":
      return e.name === "pi" ? "<mi>\u03c0</mi>" : leaf(e.name);
    case "negative":
      return `<mrow><mo form="prefix">\u2212</mo>${group(e.of, 4)}</mrow>`;
    case "choice":
      return `<mrow>${math(e.yes)}<mtext>\u00a0if\u00a0</mtext>${math(e.test)}<mtext>, else\u00a0</mtext>${math(e.no)}</mrow>`;
    case "call":
      if (e.name === "sqrt") return `<msqrt>${e.of.map(math).join("")}</msqrt>`;
      if (e.name === "abs") return `<mrow><mo>|</mo>${e.of.map(math).join("")}<mo>|</mo></mrow>`;
      return `<mrow><mi>${escape(e.name)}</mi><mo>(</mo>${e.of.map(math).join("<mo>,</mo>")}<mo>)</mo></mrow>`;
    case "binary":
      if (e.sign === "/") return `<mfrac>${`<mrow>${math(e.left)}</mrow><mrow>${math(e.right)}</mrow>`}</mfrac>`;
      if (e.sign === "^") return `<msup><mrow>${group(e.left, 9)}</mrow><mrow>${math(e.right)}</mrow></msup>`;
      return `<mrow>${group(e.left, LEVEL[e.sign] ?? 0)}<mo>${WRITTEN_SIGN[e.sign] ?? e.sign}</mo>${group(e.right, (LEVEL[e.sign] ?? 0) + (e.sign === "-" ? 1 : 0))}</mrow>`;
  }
};
