import { parseHTML } from "linkedom";
import { describe, expect, test } from "vitest";
import { type Drawing, node, type Node } from "../../shared/drawing.ts";
import { escapeText, patch, serialise } from "../../shared/svg.ts";

const drawing = (nodes: readonly Node[], width = 100): Drawing => ({ width, height: 50, nodes, handles: [] });
const page = (html: string) => parseHTML(`<!doctype html><html><body>${html}</body></html>`).document;
const mount = (first: Drawing) => page(serialise(first)).querySelector("svg") as unknown as Element;
/** The tree without its order of attributes, to compare what two svgs show. */
const shape = (element: Element): unknown => [
  element.localName,
  Object.fromEntries(Array.from(element.attributes, ({ name, value }): [string, string] => [name, value]).sort()),
  Array.from(element.childNodes, (child) => (child.nodeType === 1 ? shape(child as Element) : child.nodeValue)),
];
const same = (element: Element, expected: Drawing) => expect(shape(element)).toEqual(shape(mount(expected)));

describe("serialise", () => {
  // Extensible Markup Language 1.0 (5th edition), section 2.4: & and < must be escaped in text; " too inside a quoted attribute value.
  test("serialise(drawing) survives a parser for hostile text and attribute values", () => {
    const words = `</text><script>alert(1)</script> & "quoted" 'single' a<b>c`;
    const svg = mount(drawing([node("text", { class: words, x: 1 }, [words])]));
    const text = svg.querySelector("text") as Element;
    expect(text.textContent).toBe(words);
    expect(text.getAttribute("class")).toBe(words);
    expect(svg.querySelector("script")).toBeNull();
  });

  test("serialise(drawing) refuses style, script and event attributes, which the content policy would block", () => {
    expect(() => serialise(drawing([node("g", { style: "fill:red" })]))).toThrow(/must be a plain SVG name.*got style/);
    expect(() => serialise(drawing([node("g", { onclick: "x" })]))).toThrow(/got onclick/);
    expect(() => serialise(drawing([node("script")]))).toThrow(/got script/);
    expect(() => serialise(drawing([node("g onload=x")]))).toThrow(TypeError);
  });

  test("serialise(drawing, attributes) writes the size as a view box and the attributes given", () => {
    const svg = mount(drawing([]));
    expect(svg.getAttribute("viewBox")).toBe("0 0 100 50");
    expect(serialise(drawing([]), { role: "img" })).toContain('role="img"');
  });

  test("escapeText(text) leaves text without marks alone", () => expect(escapeText("54 km/h, 0,5 m")).toBe("54 km/h, 0,5 m"));
});

describe("patch", () => {
  const before = drawing([node("g", { class: "one" }, [node("line", { x1: 0, x2: 10 }), node("text", {}, ["12 ms"])]), node("path", { d: "M0,0" })]);
  const moved = drawing([node("g", { class: "one" }, [node("line", { x1: 0, x2: 12 }), node("text", {}, ["13 ms"])]), node("path", { d: "M0,1" })]);

  test("patch(svg, drawing) of the same shape keeps every element and changes only what differs", () => {
    const svg = mount(before);
    const elements = Array.from(svg.querySelectorAll("*"));
    patch(svg, before);
    const written: string[] = [];
    for (const element of elements) {
      const set = element.setAttribute.bind(element);
      element.setAttribute = (name: string, value: string) => {
        written.push(`${element.localName} ${name}=${value}`);
        set(name, value);
      };
    }
    patch(svg, moved);
    expect(Array.from(svg.querySelectorAll("*"))).toEqual(elements);
    expect(written).toEqual(["line x2=12", "path d=M0,1"]);
    same(svg, moved);
    written.length = 0;
    patch(svg, moved);
    expect(written).toEqual([]);
  });

  test("patch(svg, drawing) reads an svg that was written at build time before it changes it", () => {
    const svg = mount(before);
    const line = svg.querySelector("line");
    patch(svg, moved);
    expect(svg.querySelector("line")).toBe(line);
    same(svg, moved);
  });

  test("patch(svg, drawing) adds, removes and replaces where the shape differs", () => {
    const shapes = [
      before,
      drawing([]),
      drawing([node("path", { d: "M1,1", class: "x" }), node("g", {}, ["words", node("rect", { width: 3 })])]),
      moved,
      drawing([node("g", {}, [node("rect"), "words"])], 390),
      before,
    ];
    const svg = mount(before);
    for (const next of shapes) {
      patch(svg, next);
      same(svg, next);
    }
  });

  test("patch(svg, drawing) leaves alone what others put into the svg", () => {
    const svg = mount(before);
    const other = svg.ownerDocument.createElementNS("http://www.w3.org/2000/svg", "title");
    svg.appendChild(other);
    patch(svg, moved);
    expect(Array.from(svg.children)).toContain(other);
  });
});
