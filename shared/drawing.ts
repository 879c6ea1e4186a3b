/**
 * A drawing is data: a tree of SVG nodes that the builder writes out as text and the page patches in place.
 * A scene is a pure function from the state of a lesson and an instant to such a tree.
 */

export interface Node {
  readonly tag: string;
  readonly attributes: Readonly<Record<string, string | number>>;
  readonly children: readonly (Node | string)[];
}

/** One node of a drawing. Colours and strokes come from classes, so that themes, print and dark mode can change them. */
export const node = (tag: string, attributes: Readonly<Record<string, string | number>> = {}, children: readonly (Node | string)[] = []): Node => ({ tag, attributes, children });

/**
 * A place in a drawing that the reader drags to set an input.
 * The input's SI value v stands at the point origin + perUnit * v; a drag inverts that along `perUnit`.
 * Arrow keys follow the direction on screen: right or up raises the value when `perUnit` points right or up.
 */
export interface Handle {
  readonly input: string;
  readonly origin: readonly [x: number, y: number];
  /** Drawing units per SI unit of the input. */
  readonly perUnit: readonly [x: number, y: number];
}

export interface Drawing {
  /** The drawing's own units; SVG viewBox is 0 0 width height. */
  readonly width: number;
  readonly height: number;
  readonly nodes: readonly Node[];
  readonly handles: readonly Handle[];
}
