/** Writes a drawing as SVG text, and changes an SVG on the page into another drawing with as few touches as it takes. */
import type { Drawing, Node } from "./drawing.ts";

const SVG = "http://www.w3.org/2000/svg";
const NAME = /^[a-zA-Z][a-zA-Z0-9:-]*$/;
const ESCAPES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" };

/** Text made harmless between tags and between double quotes. */
export const escapeText = (words: string): string => words.replace(/[&<>"]/g, (mark) => ESCAPES[mark] as string);

// The content policy refuses inline styles and scripts, so a drawing that needs one is a fault, not something to drop in silence.
const checkName = (name: string, what: string): string => {
  if (!NAME.test(name) || name === "style" || name === "script" || /^on/i.test(name)) throw new TypeError(`drawing: ${what} must be a plain SVG name (no style, no script, no event), got ${name}`);
  return name;
};

const write = (child: Node | string): string => {
  if (typeof child === "string") return escapeText(child);
  const tag = checkName(child.tag, "a tag");
  const attributes = Object.entries(child.attributes)
    .map(([name, value]) => ` ${checkName(name, "an attribute")}="${escapeText(String(value))}"`)
    .join("");
  return `<${tag}${attributes}>${child.children.map(write).join("")}</${tag}>`;
};

const viewBox = (drawing: Drawing): string => `0 0 ${drawing.width} ${drawing.height}`;

/** The drawing as an `<svg>` with its marks in one group, `g.sheet`; whatever else stands in the svg is left alone by `patch`. */
export const serialise = (drawing: Drawing, attributes: Readonly<Record<string, string>> = {}): string =>
  write({ tag: "svg", attributes: { xmlns: SVG, viewBox: viewBox(drawing), class: "drawing", ...attributes }, children: [{ tag: "g", attributes: { class: "sheet" }, children: drawing.nodes }] });

const create = (document: Document, child: Node | string): ChildNode => {
  if (typeof child === "string") return document.createTextNode(child);
  const element = document.createElementNS(SVG, checkName(child.tag, "a tag"));
  for (const [name, value] of Object.entries(child.attributes)) element.setAttribute(checkName(name, "an attribute"), String(value));
  for (const grandchild of child.children) element.appendChild(create(document, grandchild));
  return element;
};

const isElement = (node: ChildNode): node is Element & ChildNode => node.nodeType === 1;

/** `before` is what the element shows, where it is known; else the element itself is read. */
const patchChildren = (parent: Element, before: readonly (Node | string)[] | undefined, after: readonly (Node | string)[]): void => {
  if (before === after) return;
  let at: ChildNode | null = parent.firstChild;
  for (let i = 0; i < after.length; i++) {
    const next = after[i] as Node | string;
    const previous = before?.[i];
    const following: ChildNode | null = at?.nextSibling ?? null;
    if (at === null) parent.appendChild(create(parent.ownerDocument, next));
    else if (typeof next === "string") {
      if (at.nodeType !== 3) parent.replaceChild(create(parent.ownerDocument, next), at);
      else if (previous === undefined ? at.nodeValue !== next : previous !== next) at.nodeValue = next;
    } else if (!isElement(at) || at.localName !== next.tag) parent.replaceChild(create(parent.ownerDocument, next), at);
    else patchElement(at, typeof previous === "object" ? previous : undefined, next);
    at = following;
  }
  while (at) {
    const following: ChildNode | null = at.nextSibling;
    parent.removeChild(at);
    at = following;
  }
};

const patchElement = (element: Element, before: Node | undefined, after: Node): void => {
  if (before === after) return;
  for (const name in after.attributes) {
    const value = after.attributes[name] as string | number;
    if (before ? before.attributes[name] !== value : element.getAttribute(name) !== String(value)) element.setAttribute(checkName(name, "an attribute"), String(value));
  }
  const gone = before ? Object.keys(before.attributes) : Array.from(element.attributes, (attribute) => attribute.name);
  for (const name of gone) if (!(name in after.attributes)) element.removeAttribute(name);
  patchChildren(element, before?.children, after.children);
};

const shown = new WeakMap<Element, Drawing>();

/** Makes an svg that `serialise` wrote show another drawing. Elements that stay keep their identity. */
export const patch = (svg: Element, drawing: Drawing): void => {
  const before = shown.get(svg);
  let sheet = Array.from(svg.children).find((child) => child.getAttribute("class") === "sheet");
  if (!sheet) {
    sheet = svg.ownerDocument.createElementNS(SVG, "g");
    sheet.setAttribute("class", "sheet");
    svg.insertBefore(sheet, svg.firstChild);
  }
  if (svg.getAttribute("viewBox") !== viewBox(drawing)) svg.setAttribute("viewBox", viewBox(drawing));
  patchChildren(sheet, before?.nodes, drawing.nodes);
  shown.set(svg, drawing);
};
