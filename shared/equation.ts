/**
 * Reads the `@equation` lines of the kernels: plain arithmetic with dotted names and a few functions.
 * A tree comes first, so that a page can show it with the present numbers; nothing is ever run as code.
 */

export type Expression =
  | { readonly type: "number"; readonly value: number }
  | { readonly type: "name"; readonly name: string }
  | { readonly type: "negate"; readonly of: Expression }
  | { readonly type: "binary"; readonly operator: "+" | "-" | "*" | "/" | "^"; readonly left: Expression; readonly right: Expression }
  | { readonly type: "call"; readonly function: FunctionName; readonly of: readonly Expression[] };

const FUNCTIONS = {
  sqrt: Math.sqrt,
  exp: Math.exp,
  log: Math.log,
  abs: Math.abs,
  min: Math.min,
  max: Math.max,
  sin: Math.sin,
  cos: Math.cos,
  tan: Math.tan,
  asin: Math.asin,
  acos: Math.acos,
  atan: Math.atan,
  atan2: Math.atan2,
  hypot: Math.hypot,
  sign: Math.sign,
} as const;
export type FunctionName = keyof typeof FUNCTIONS;

const TOKEN = /\s*(?:(\d+(?:\.\d*)?(?:[eE][+-]?\d+)?|\.\d+(?:[eE][+-]?\d+)?)|([A-Za-z_]\w*(?:\.[A-Za-z_]\w*)*)|([-+*/^(),]))/y;

/** Reads an expression; SyntaxError where it is not one. */
export const parseExpression = (text: string): Expression => {
  const tokens: { readonly kind: "number" | "name" | "sign"; readonly text: string }[] = [];
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < text.trimEnd().length) {
    const at = TOKEN.lastIndex;
    const found = TOKEN.exec(text);
    if (found === null) throw new SyntaxError(`unexpected ${JSON.stringify(text.slice(at).trim().slice(0, 12))} in "${text}"`);
    tokens.push(found[1] !== undefined ? { kind: "number", text: found[1] } : found[2] !== undefined ? { kind: "name", text: found[2] } : { kind: "sign", text: found[3] as string });
  }
  let i = 0;
  const is = (sign: string): boolean => tokens[i]?.kind === "sign" && tokens[i]?.text === sign;
  const take = (sign: string): void => {
    if (!is(sign)) throw new SyntaxError(`expected ${sign}, got ${tokens[i]?.text ?? "the end"} in "${text}"`);
    i++;
  };
  const sum = (): Expression => {
    let left = product();
    while (is("+") || is("-")) left = { type: "binary", operator: tokens[i++]?.text as "+" | "-", left, right: product() };
    return left;
  };
  const product = (): Expression => {
    let left = signed();
    while (is("*") || is("/")) left = { type: "binary", operator: tokens[i++]?.text as "*" | "/", left, right: signed() };
    return left;
  };
  const signed = (): Expression => {
    if (is("-")) return i++, { type: "negate", of: signed() };
    if (is("+")) return i++, signed();
    return power();
  };
  const power = (): Expression => {
    const base = atom();
    // Right-associative, and binding tighter than a sign before it: -a^2 is -(a^2), a^-2 is a^(-2).
    return is("^") ? (i++, { type: "binary", operator: "^", left: base, right: signed() }) : base;
  };
  const atom = (): Expression => {
    const token = tokens[i];
    if (token === undefined) throw new SyntaxError(`unexpected end of "${text}"`);
    if (token.kind === "number") return i++, { type: "number", value: Number(token.text) };
    if (token.kind === "name") {
      i++;
      if (!is("(")) return { type: "name", name: token.text };
      if (!Object.hasOwn(FUNCTIONS, token.text)) throw new SyntaxError(`${token.text} is not a function; there are ${Object.keys(FUNCTIONS).join(", ")}`);
      i++;
      const of = [sum()];
      while (is(",")) i++, of.push(sum());
      take(")");
      return { type: "call", function: token.text as FunctionName, of };
    }
    take("(");
    const inside = sum();
    take(")");
    return inside;
  };
  const whole = sum();
  if (i < tokens.length) throw new SyntaxError(`unexpected ${tokens[i]?.text} in "${text}"`);
  return whole;
};

const CONSTANTS: Readonly<Record<string, number>> = { pi: Math.PI };

/**
 * Value of an expression; `lookup` gives the value of a name. `largest` reports the largest size met on the way,
 * which tells how much rounding a difference of near-equal terms may carry.
 */
export const evaluateExpression = (expression: Expression, lookup: (name: string) => number, largest: (size: number) => void = () => {}): number => {
  const at = (e: Expression): number => {
    const value = valueOf(e);
    largest(Math.abs(value));
    return value;
  };
  const valueOf = (e: Expression): number => {
    switch (e.type) {
      case "number":
        return e.value;
      case "name":
        return Object.hasOwn(CONSTANTS, e.name) ? (CONSTANTS[e.name] as number) : lookup(e.name);
      case "negate":
        return -at(e.of);
      case "call":
        return (FUNCTIONS[e.function] as (...values: number[]) => number)(...e.of.map(at));
      case "binary": {
        const left = at(e.left);
        const right = at(e.right);
        return e.operator === "+" ? left + right : e.operator === "-" ? left - right : e.operator === "*" ? left * right : e.operator === "/" ? left / right : left ** right;
      }
    }
  };
  return at(expression);
};

/** Names an expression reads, each once. */
export const namesIn = (expression: Expression): string[] => {
  const names = new Set<string>();
  const walk = (e: Expression): void => {
    if (e.type === "name") {
      if (!Object.hasOwn(CONSTANTS, e.name)) names.add(e.name);
    } else if (e.type === "negate") walk(e.of);
    else if (e.type === "binary") (walk(e.left), walk(e.right));
    else if (e.type === "call") e.of.forEach(walk);
  };
  walk(expression);
  return [...names];
};
