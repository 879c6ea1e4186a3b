/** Captions as WebVTT (W3C), from lines as they stand on screen, and a check of how fast they must be read. */
import { inWords } from "./numberWords.ts";

/** Limits of subtitling practice: see `captionProblems`. */
export const MOST_WORDS_A_MINUTE = 180;
export const MOST_LINES = 2;
/** Fits two thirds of a 16:9 picture at the usual size of a caption; common practice, no source. */
export const LINE_LENGTH = 42;
/** Shorter, and nobody finds it before it goes. */
export const LEAST_SECONDS = 2;
/** Calm speech. */
export const SPEAKING_PACE = 150;
/** Between two captions, so that a change is seen [s]. */
const PAUSE = 0.25;

export interface Caption {
  readonly id: string;
  /** Seconds. */
  readonly from: number;
  readonly to: number;
  readonly lines: readonly string[];
}

const SPACES = /[ \n\t]+/;
const wordsIn = (text: string): number => text.split(/[\s\u00a0]+/).filter((word) => /[\p{L}\p{N}]/u.test(word)).length;

/** Words that are read or said, whichever are more: "60 km/h" is two to read and four to say. */
export const wordsOf = (text: string): number => Math.max(wordsIn(text), wordsIn(inWords(text)));

/** Broken at spaces so that no line is longer than it may be; a number keeps its unit, since a no-break space stands between. */
export const brokenLines = (text: string, most = LINE_LENGTH): string[] => {
  const lines: string[] = [];
  for (const word of text.split(SPACES).filter((one) => one !== "")) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= most) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
};

/** Two lines of about the same length, where two are needed. */
const balanced = (text: string): string[] => {
  const lines = brokenLines(text);
  if (lines.length !== 2) return lines;
  for (let most = Math.ceil(text.length / 2); most < LINE_LENGTH; most++) {
    const shorter = brokenLines(text, most);
    if (shorter.length === 2 && shorter.every((line) => line.length <= LINE_LENGTH)) return shorter;
  }
  return lines;
};

const fits = (text: string): boolean => brokenLines(text).length <= MOST_LINES;

/** Pieces joined to their neighbours as long as a caption holds them. */
const joinedPieces = (pieces: readonly string[]): string[] => {
  const found: string[] = [];
  for (const piece of pieces) {
    const whole = `${found.at(-1)} ${piece}`;
    if (found.length > 0 && fits(whole)) found[found.length - 1] = whole;
    else found.push(piece);
  }
  return found;
};

/** A piece that has no end of a clause to break at: as few captions as hold it, none much shorter than another. */
const evenPieces = (text: string): string[] => {
  const words = text.split(SPACES);
  for (let count = 2; ; count++) {
    const most = text.length / count;
    const pieces: string[] = [];
    for (const word of words) {
      const last = pieces.at(-1);
      if (last !== undefined && last.length + 1 + word.length / 2 <= most) pieces[pieces.length - 1] = `${last} ${word}`;
      else pieces.push(word);
    }
    if (pieces.every(fits) || count > words.length) return pieces;
  }
};

/** A spoken line in as few captions as hold it: by sentences, then by clauses, then by words. */
const captionsOfLine = (text: string): string[] =>
  joinedPieces(
    text.split(/(?<=[.!?:])[ \n]+/).flatMap((sentence) => (fits(sentence) ? [sentence] : joinedPieces(sentence.split(/(?<=[,;])[ \n]+/)).flatMap((clause) => (fits(clause) ? [clause] : evenPieces(clause))))),
  );

const rounded = (seconds: number): number => Math.round(seconds * 1000) / 1000;

/** Captions for lines spoken one after another from `start`, each as long as it takes to say. */
export const captionsOf = (lines: readonly string[], { pace = SPEAKING_PACE, start = 0 }: { readonly pace?: number; readonly start?: number } = {}): Caption[] => {
  const captions: Caption[] = [];
  let at = start;
  lines.forEach((line, i) =>
    captionsOfLine(line).forEach((text, j) => {
      // up, so that rounding to the millisecond never makes it too fast
      const length = Math.max(LEAST_SECONDS, Math.ceil((wordsOf(text) * 60_000) / pace) / 1000);
      captions.push({ id: `${i + 1}.${j + 1}`, from: rounded(at), to: rounded(at + length), lines: balanced(text) });
      at += length + PAUSE;
    }),
  );
  return captions;
};

const two = (n: number): string => String(n).padStart(2, "0");
const stamp = (seconds: number): string => {
  const ms = Math.round(seconds * 1000);
  return `${two(Math.floor(ms / 3_600_000))}:${two(Math.floor(ms / 60_000) % 60)}:${two(Math.floor(ms / 1000) % 60)}.${String(ms % 1000).padStart(3, "0")}`;
};

const cueText = (text: string): string => text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;");

export const writeVtt = (captions: readonly Caption[], note = ""): string =>
  ["WEBVTT", ...(note === "" ? [] : [`NOTE\n${cueText(note.replace(/\s+/g, " "))}`]), ...captions.map(({ id, from, to, lines }) => `${id}\n${stamp(from)} --> ${stamp(to)}\n${lines.map(cueText).join("\n")}`)].join("\n\n") + "\n";

/** What a viewer would stumble over, in words; nothing where all is well. */
export const captionProblems = (captions: readonly Caption[]): string[] =>
  captions.flatMap(({ id, from, to, lines }, i) => {
    const text = lines.join(" ");
    // as a file has it, in whole milliseconds
    const length = rounded(to - from);
    const pace = (wordsOf(text) * 60) / length;
    const before = captions[i - 1];
    return [
      ...(!(to > from) ? [`Caption ${id} ends before it begins.`] : []),
      ...(pace > MOST_WORDS_A_MINUTE ? [`Caption ${id} asks for ${Math.round(pace)} words a minute; ${MOST_WORDS_A_MINUTE} is the most. Speak slower, or say less.`] : []),
      ...(length < LEAST_SECONDS ? [`Caption ${id} stands for less than ${LEAST_SECONDS} s.`] : []),
      ...(lines.length > MOST_LINES ? [`Caption ${id} has ${lines.length} lines; ${MOST_LINES} is the most.`] : []),
      ...lines.filter((line) => line.length > LINE_LENGTH).map((line) => `Caption ${id} has a line of ${line.length} characters; ${LINE_LENGTH} is the most: \u201c${line}\u201d`),
      ...(before !== undefined && from < before.to ? [`Caption ${id} begins before the one before it ends.`] : []),
    ];
  });
