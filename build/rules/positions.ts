/** Inline rule that matches nothing: it notes where in its text each token began, which Markdown parsers do not keep. */
import type { MarkdownIt, StateInline } from "markdown-it";

const noted = new WeakMap<StateInline, { at: number }>();

export const positions = (md: MarkdownIt): void => {
  md.inline.ruler.before("text", "position", (state, silent) => {
    if (silent) return false;
    let note = noted.get(state);
    if (note === undefined) {
      const mine = { at: state.pos };
      noted.set(state, mine);
      note = mine;
      const push = state.push.bind(state);
      state.push = (type, tag, nesting) => {
        const token = push(type, tag, nesting);
        token.meta = { ...token.meta, at: mine.at };
        return token;
      };
    }
    note.at = state.pos;
    return false;
  });
};

/** Where a child of an inline token stands in the file: 1-based line and column. */
export const placeIn = (lines: readonly string[], content: string, firstLine: number, at: number): { line: number; column: number } => {
  const before = content.slice(0, at).split("\n");
  const row = before.length - 1;
  const text = content.split("\n")[row] as string;
  const source = lines[firstLine + row] ?? "";
  const indent = source.indexOf(text);
  return { line: firstLine + row + 1, column: (indent < 0 ? source.search(/\S|$/) : indent + (before[row] as string).length) + 1 };
};
