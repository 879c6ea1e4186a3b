/** Block rule: `::: name argument` … `:::`. Containers nest; the innermost closes first. */
import type { MarkdownIt } from "markdown-it";

const OPEN = /^:{3,}[ \t]*([^\s:].*)$/;
const CLOSE = /^:{3,}[ \t]*$/;
const FENCE = /^(`{3,}|~{3,})/;

export const container = (md: MarkdownIt): void => {
  md.block.ruler.before(
    "fence",
    "container",
    (state, startLine, endLine, silent) => {
      const lineAt = (n: number): string => state.src.slice((state.bMarks[n] as number) + (state.tShift[n] as number), state.eMarks[n]).trimEnd();
      if ((state.sCount[startLine] as number) - state.blkIndent >= 4) return false;
      const opened = OPEN.exec(lineAt(startLine));
      if (opened === null) return false;
      if (silent) return true;
      let depth = 1;
      let fence = "";
      let end = startLine + 1;
      for (; end < endLine; end++) {
        const text = lineAt(end);
        if (text !== "" && (state.sCount[end] as number) < state.blkIndent) break;
        const mark = FENCE.exec(text)?.[1];
        if (fence !== "") {
          if (mark !== undefined && mark.startsWith(fence) && text === mark) fence = "";
        } else if (mark !== undefined) fence = mark;
        else if (CLOSE.test(text)) depth--;
        else if (OPEN.test(text)) depth++;
        if (depth === 0) break;
      }
      const closed = depth === 0;
      const [, name = "", argument = ""] = /^(\S+)\s*(.*)$/.exec(opened[1] as string) ?? [];
      const parent = state.parentType;
      const lineMax = state.lineMax;
      state.parentType = "blockquote";
      state.lineMax = end;
      const open = state.push("container_open", "div", 1);
      open.block = true;
      open.map = [startLine, end];
      open.info = name;
      open.meta = { argument, closed };
      state.md.block.tokenize(state, startLine + 1, end);
      const close = state.push("container_close", "div", -1);
      close.block = true;
      close.info = name;
      state.parentType = parent;
      state.lineMax = lineMax;
      state.line = closed ? end + 1 : end;
      return true;
    },
    { alt: ["paragraph", "reference", "blockquote", "list"] },
  );
};
