/** A mistake in a file that a person wrote: where it is, what is wrong, and the way out. All are listed, never only the first. */

export interface Problem {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly message: string;
}

export const writeProblem = (p: Problem): string => `${p.file}:${p.line}:${p.column}: ${p.message}`;

/** Thrown where a build cannot go on; carries everything that is wrong. */
export class BuildError extends Error {
  readonly problems: readonly Problem[];
  constructor(problems: readonly Problem[]) {
    super(problems.map(writeProblem).join("\n"));
    this.name = "BuildError";
    this.problems = problems;
  }
}

/** In the order in which a reader meets them, each once. */
export const inOrder = (problems: readonly Problem[]): Problem[] => {
  const seen = new Map(problems.map((p) => [writeProblem(p), p]));
  return [...seen.values()].sort((p, q) => (p.file < q.file ? -1 : p.file > q.file ? 1 : p.line - q.line || p.column - q.column));
};
