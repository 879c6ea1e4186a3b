/** A reader of WebVTT after the W3C's "WebVTT: The Web Video Text Tracks Format", section 4 (syntax); strict: what is no valid file throws. */
export interface ReadCaption {
  readonly id: string;
  readonly from: number;
  readonly to: number;
  readonly lines: readonly string[];
}

const STAMP = /^(?:(\d{2,}):)?([0-5]\d):([0-5]\d)\.(\d{3})$/;
const seconds = (stamp: string): number => {
  const [, hours = "0", minutes, whole, ms] = STAMP.exec(stamp) ?? [];
  if (ms === undefined) throw new Error(`no timestamp: ${stamp}`);
  return Number(hours) * 3600 + Number(minutes) * 60 + Number(whole) + Number(ms) / 1000;
};

const unescaped = (text: string): string => {
  if (/<|&(?!amp;|lt;|gt;|nbsp;|lrm;|rlm;)/.test(text)) throw new Error(`unescaped mark in cue text: ${text}`);
  return text.replace(/&lt;/g, "<").replace(/&gt;/g, ">").replace(/&nbsp;/g, "\u00a0").replace(/&amp;/g, "&");
};

export const readVtt = (file: string): ReadCaption[] => {
  if (/[\0\r]/.test(file)) throw new Error("NUL or carriage return");
  const [head = "", ...blocks] = file.replace(/^\ufeff/, "").replace(/\n+$/, "").split(/\n{2,}/);
  if (!/^WEBVTT(?:[ \t][^\n]*)?$/.test(head)) throw new Error("the file must begin with WEBVTT alone on its line, and an empty line");
  let before = 0;
  return blocks.flatMap((block) => {
    const lines = block.split("\n");
    if (/^NOTE(?:[ \t]|$)/.test(lines[0] ?? "")) {
      if (block.includes("-->")) throw new Error("a note holds an arrow");
      return [];
    }
    const id = lines[0]?.includes("-->") ? "" : (lines.shift() ?? "");
    const [, from, to] = /^(\S+)[ \t]+-->[ \t]+(\S+)$/.exec(lines.shift() ?? "") ?? [];
    if (from === undefined || to === undefined) throw new Error(`no timings after ${id}`);
    if (lines.some((line) => line.includes("-->"))) throw new Error("cue text holds an arrow");
    const cue = { id, from: seconds(from), to: seconds(to), lines: lines.map(unescaped) };
    if (!(cue.to > cue.from) || cue.from < before) throw new Error(`times of ${id} run backwards`);
    before = cue.from;
    return [cue];
  });
};
