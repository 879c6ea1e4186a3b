/** What every page of the site has around it: policy, head, cautions. */
import type { ReaderUnits } from "../shared/kinds.ts";
import type { Mathematics } from "./frontMatter.ts";
import { escapeHtml } from "./html.ts";
import type { Source } from "./kernels.ts";

/** `connect-src` is opened only while serving, for the reload stream. */
export const contentPolicy = (serving: boolean): string =>
  ["default-src 'none'", "script-src 'self'", "style-src 'self'", "img-src 'self' data: blob:", "worker-src blob:", ...(serving ? ["connect-src 'self'"] : []), "base-uri 'none'", "form-action 'none'"].join("; ");

const CAUTIONS = [
  "A teaching and planning aid; not for legal or insurance reconstruction, evidence or fault.",
  "Not for choosing, rating or modifying a vehicle.",
  "Not medical advice; no injury probability is computed for a scenario.",
];
const INVENTED = "Vehicles, people and site are invented; any likeness is coincidence.";

export interface ListedLesson {
  readonly slug: string;
  readonly title: string;
  readonly question: string;
  readonly minutes: number;
  readonly mathematics: Mathematics | undefined;
  readonly curriculum: readonly string[];
  readonly misconceptions: readonly string[];
  readonly bench: boolean;
}

/** Pages of the site beside its lessons. */
const SITE = [
  ["index", "All lessons"],
  ["misconceptions", "For teachers"],
  ["evidence", "How we know"],
  ["reference", "Kernels"],
] as const;

export interface SiteFacts {
  readonly version: string;
  readonly scenarioTitle: string;
  /** Units that lessons start in. */
  readonly units: ReaderUnits;
  /** The scenario is the one that the project ships. */
  readonly invented: boolean;
  /** Every lesson of the site, in order. */
  readonly lessons: readonly ListedLesson[];
  readonly sources: Readonly<Record<string, Source>>;
  readonly serving: boolean;
}

/** The frame of every page. */
export const shell = (facts: SiteFacts, page: { slug: string; title: string; main: string; scripts: readonly string[]; tools: string; styles?: readonly string[]; scale?: string }): string => `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${contentPolicy(facts.serving)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta name="referrer" content="no-referrer">
<title>${escapeHtml(page.title)}</title>
<link rel="icon" href="data:,">
<link rel="stylesheet" href="page.css">${(page.styles ?? []).map((s) => `\n<link rel="stylesheet" href="${s}">`).join("")}
<script src="gate.js"></script>
${[...page.scripts, ...(facts.serving ? ["reload.js"] : [])].map((s) => `<script src="${s}" defer></script>`).join("\n")}
</head>
<body data-page="${page.slug}"${page.scale === undefined ? "" : ` data-scale="${page.scale}"`}>
<a class="skip" href="#main">Skip to the lesson</a>
<header class="site">
<nav aria-label="Site">${SITE.map(([slug, words]) => `<a href="${slug}.html"${slug === page.slug ? ' aria-current="page"' : ""}>${words}</a>`).join("")}</nav>
${page.tools}</header>
<main id="main">
${page.main}
</main>
<footer class="site">
<ul class="cautions">${[...CAUTIONS, facts.invented ? INVENTED : `Vehicles, people and values are as the author of “${escapeHtml(facts.scenarioTitle)}” gave them.`].map((c) => `<li>${c}</li>`).join("")}</ul>
<p class="version">ridedown ${escapeHtml(facts.version)} · ${escapeHtml(facts.scenarioTitle)}</p>
</footer>
</body>
</html>
`;
