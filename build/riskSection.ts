/** The published curves of injury risk, for the page "How we know" only: each drawn and named, sources that disagree side by side. */
import { fourthPowerRisk, injuryRisk, injuryRisksSideBySide, massRatioRisk, RISK_CURVES, type RiskCurve, type RiskCurveName } from "../lib/index.ts";
import { fromSI, toSI } from "../lib/units.ts";
import { formatNumber, formatSignificant } from "../shared/state/numbers.ts";
import { escapeHtml } from "./html.ts";
import type { SiteFacts } from "./shell.ts";

/** One curve of a drawing: what it gives for a number on the horizontal axis. */
interface Curve {
  readonly name: string;
  readonly describes: string;
  /** As it is computed, in the unit of the axis. */
  readonly formula: string;
  readonly source: string;
  readonly status: string;
  readonly note?: string | undefined;
  readonly at: (x: number) => number;
}

interface Panel {
  readonly title: string;
  readonly x: string;
  readonly y: string;
  /** Ends of the horizontal and of the vertical axis, and steps between their numbers. */
  readonly across: Scale;
  readonly up: Scale;
  readonly curves: readonly Curve[];
  /** A value as it stands in the table. */
  readonly write: (y: number) => string;
  /** How far the sources differ, where they do. */
  readonly differ: string | undefined;
}

interface Scale {
  readonly from: number;
  readonly to: number;
  readonly step: number;
}

const number = (value: number, digits = 6): string => formatSignificant(value, digits, "en");
/** Two or three figures; a share that no figure of these shows is under or over the last. */
const percent = (share: number): string => {
  if (share > 0 && share < 0.0005) return "< 0.1 %";
  if (share < 1 && share >= 0.9995) return "> 99.9 %";
  return `${formatNumber(100 * share, share > 0.0995 && share < 0.9005 ? 0 : 1, "en")} %`;
};

const UNIT: Readonly<Record<string, string>> = { "1": "", gn: "g\u2099" };
const unitOf = ({ unit }: RiskCurve): string => UNIT[unit] ?? unit;

const NAMES = Object.keys(RISK_CURVES) as RiskCurveName[];
const curveOf = (name: RiskCurveName): RiskCurve => RISK_CURVES[name];
/** Years shown for the curve that has an age. */
const AGES = [25, 65];

const exponent = ({ form, c1, c2, c3, years }: RiskCurve): string =>
  `${number(c1)}${years === undefined ? "" : ` \u2212 ${number(years)} \u00d7 age`}${form === "expanded" ? " + 200 / x" : ""} \u2212 ${number(c2)} x${c3 === undefined ? "" : `^${number(c3)}`}`;
const formulaOf = (curve: RiskCurve): string => (curve.form === "lognormal" ? `\u03a6((ln x \u2212 ${number(curve.c1)}) / ${number(curve.c2)})` : `1 / (1 + exp(${exponent(curve)}))`);

const severe = (severity: number): string => `AIS ${severity}${severity === 6 ? "" : " or more"}`;

const drawn = (name: RiskCurveName): Curve[] => {
  const curve = curveOf(name);
  const one = (age?: number): Curve => ({
    name: age === undefined ? name : `${name}, ${age} years`,
    describes: `${severe(curve.severity)}, ${curve.dummy === "any" ? "any dummy" : curve.dummy}`,
    formula: formulaOf(curve),
    source: curve.source,
    status: curve.status,
    note: curve.note,
    at: (x) => injuryRisk({ curve: name, value: toSI(x, curve.unit), ...(age === undefined ? {} : { age }) }).probability,
  });
  return curve.years === undefined ? [one()] : AGES.map(one);
};

/** Steps between the numbers of an axis: about four to its end, each 1, 2 or 5 with noughts. */
const scaleTo = (end: number): Scale => {
  const decade = 10 ** Math.floor(Math.log10(end / 4));
  const step = [1, 2, 5, 10].map((n) => n * decade).find((s) => end / s <= 5) as number;
  return { from: 0, to: Math.ceil(end / step - 1e-9) * step, step };
};
/** Numbers along an axis. */
const marks = ({ from, to, step }: Scale): number[] => Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step);

/** Of the highest median of a measure: far enough to show all its curves rise past one half. */
const BEYOND = 1.4;
const SHARES: Scale = { from: 0, to: 100, step: 25 };

/** Sources without an age that have a curve for the same measure and severity. */
const sourcesOf = (names: readonly RiskCurveName[]): number => new Set(names.filter((name) => curveOf(name).years === undefined).map((name) => curveOf(name).source)).size;

const riskPanel = (measure: RiskCurve["measure"], names: readonly RiskCurveName[], across: Scale): Panel => {
  const [first] = names as readonly [RiskCurveName];
  const unit = unitOf(curveOf(first));
  const middle = marks(across)[1] as number;
  const severities = [...new Set(names.map((name) => curveOf(name).severity))];
  const { lowest, highest } = injuryRisksSideBySide({ measure, severity: severities[0] as number, value: toSI(middle, curveOf(first).unit) });
  return {
    title: `${measure[0]?.toUpperCase()}${measure.slice(1)}, ${severities.map(severe).join("; ")}`,
    x: unit === "" ? measure : `${measure}, ${unit}`,
    y: "share injured, %",
    across,
    up: SHARES,
    curves: names.flatMap(drawn),
    write: percent,
    differ: sourcesOf(names) < 2 || severities.length > 1 ? undefined : `Sources disagree: at ${number(middle)}${unit === "" ? "" : ` ${unit}`} they give from ${percent(lowest)} to ${percent(highest)}.`,
  };
};

/** One drawing for each measure and severity that several sources have; what is left of a measure is drawn together. */
const riskPanels = (): Panel[] => {
  const measures = [...new Set(NAMES.map((name) => curveOf(name).measure))];
  const panels = measures.flatMap((measure) => {
    const ofMeasure = NAMES.filter((name) => curveOf(name).measure === measure);
    const medians = ofMeasure.flatMap((name) => (curveOf(name).years === undefined ? [{}] : AGES.map((age) => ({ age }))).map((age) => fromSI(injuryRisk({ curve: name, value: 0, ...age }).median, curveOf(name).unit)));
    const across = scaleTo(BEYOND * Math.max(...medians));
    const bySeverity = [...new Set(ofMeasure.map((name) => curveOf(name).severity))].map((severity) => ofMeasure.filter((name) => curveOf(name).severity === severity));
    const rest = bySeverity.filter((names) => sourcesOf(names) < 2).flat();
    return [...bySeverity.filter((names) => sourcesOf(names) >= 2), ...(rest.length === 0 ? [] : [rest])].map((names) => ({ sources: names === rest ? 1 : sourcesOf(names), panel: riskPanel(measure, names, across) }));
  });
  return panels.sort((p, q) => q.sources - p.sources).map(({ panel }) => panel);
};

/** Exponents of the mass ratio, each with where it is printed. */
const EXPONENTS = [
  { exponent: 2.7, where: "The abstract prints 2.7 % for one per cent less mass, the low end of its span.", status: "read" },
  { exponent: 3.58, where: "A single figure, inside the span that was read.", status: "from memory" },
  { exponent: 4.3, where: "The abstract prints 4.3 % for one per cent less mass, the high end of its span.", status: "read" },
] as const;

const populationPanels = (): Panel[] => [
  {
    title: "Drivers killed in two-car crashes, by mass ratio",
    x: "mass of the heavier over the lighter",
    y: "risk in the lighter, times",
    across: { from: 1, to: 2, step: 0.25 },
    up: { from: 0, to: 20, step: 5 },
    curves: EXPONENTS.map(({ exponent: power, where, status }) => ({
      name: `massRatioRisk, exponent ${power}`,
      describes: "Registered deaths",
      formula: `x^${power}`,
      source: "evans-frick-1993",
      status,
      note: where,
      at: (x: number) => massRatioRisk({ massRatio: x, exponent: power }).ratio,
    })),
    write: (times) => `${number(times, 3)} times`,
    differ: `The span of one source: at mass ratio 2 from ${number(massRatioRisk({ massRatio: 2, exponent: 2.7 }).ratio, 2)} to ${number(massRatioRisk({ massRatio: 2, exponent: 4.3 }).ratio, 2)} times.`,
  },
  {
    title: "Drivers killed in two-car crashes, by change of velocity",
    x: "change of velocity, m/s",
    y: "share killed, %",
    across: { from: 0, to: 40, step: 10 },
    up: SHARES,
    curves: [{ name: "fourthPowerRisk", describes: "Registered deaths", formula: "min(1, (x / 31.74)^4)", source: "joksch-1993", status: "second-hand", note: "A rule of thumb.", at: (x) => fourthPowerRisk({ speedChange: x }).probability }],
    write: percent,
    differ: undefined,
  },
];

/** Drawing units: a phone's width, so that type keeps its size there. */
const WIDTH = 340;
const HEIGHT = 236;
const LEFT = 38;
const RIGHT = 12;
const TOP = 30;
const BOTTOM = 44;
const POINTS = 80;
const tenth = (value: number): number => Math.round(value * 10) / 10;

/** Line of each curve in a drawing, told apart without colour. */
const LINES = ["", "9 4", "2 4", "12 4 2 4"];
const LETTERS = "ABCD";

const draw = ({ title, x, y, across, up, curves }: Panel): string => {
  const px = (value: number): number => tenth(LEFT + ((value - across.from) / (across.to - across.from)) * (WIDTH - LEFT - RIGHT));
  const py = (value: number): number => tenth(HEIGHT - BOTTOM - ((value - up.from) / (up.to - up.from)) * (HEIGHT - TOP - BOTTOM));
  const scale = up === SHARES ? 100 : 1;
  const lines = curves.map(({ at }, i) => {
    const points = Array.from({ length: POINTS + 1 }, (_, k) => across.from + (k / POINTS) * (across.to - across.from)).map((value) => [value, scale * at(value)] as const).filter(([, value]) => value <= up.to);
    // letters stand on their curves at different heights, so that near curves keep them apart
    const height = up.from + (up.to - up.from) * (0.34 + (0.44 * i) / Math.max(1, curves.length - 1));
    const [lx, ly] = points.find(([, value]) => value >= height) ?? (points.at(-1) as readonly [number, number]);
    return {
      path: `<path class="line"${LINES[i] === "" ? "" : ` stroke-dasharray="${LINES[i]}"`} d="${points.map(([a, b], k) => `${k === 0 ? "M" : "L"}${px(a)},${py(b)}`).join("")}"/>`,
      letter: `<text class="curve-label" x="${px(lx)}" y="${tenth(py(ly) + 5)}" text-anchor="middle">${LETTERS[i]}</text>`,
    };
  });
  return (
    `<svg class="figure-plot" viewBox="0 0 ${WIDTH} ${HEIGHT}" width="${WIDTH}" height="${HEIGHT}" role="img" aria-label="${escapeHtml(`${title}: ${y} against ${x}, ${curves.length === 1 ? "one curve" : `${curves.length} curves`}; the table has their values. Test dummies and populations, never one person.`)}">` +
    `<g class="grid">${marks(up).map((mark) => `<line x1="${LEFT}" x2="${WIDTH - RIGHT}" y1="${py(mark)}" y2="${py(mark)}"/>`).join("")}</g>` +
    `<line class="zero" x1="${LEFT}" x2="${WIDTH - RIGHT}" y1="${py(up.from)}" y2="${py(up.from)}"/>` +
    `<g text-anchor="end">${marks(up).map((mark) => `<text x="${LEFT - 6}" y="${tenth(py(mark) + 5)}">${number(mark)}</text>`).join("")}</g>` +
    `<g text-anchor="middle">${marks(across).map((mark, i, all) => `<text x="${px(mark)}" y="${HEIGHT - BOTTOM + 18}"${i === all.length - 1 ? ' text-anchor="end" dx="8"' : ""}>${number(mark)}</text>`).join("")}</g>` +
    `<text x="0" y="14">${escapeHtml(y)}</text><text x="${WIDTH - RIGHT}" y="${HEIGHT - 6}" text-anchor="end">${escapeHtml(x)}</text>` +
    `${lines.map(({ path }) => path).join("")}${lines.map(({ letter }) => letter).join("")}</svg>`
  );
};

const swatch = (i: number): string => `<svg class="figure-plot swatch" viewBox="0 0 34 12" width="34" height="12" aria-hidden="true"><path class="line"${LINES[i] === "" ? "" : ` stroke-dasharray="${LINES[i]}"`} d="M1,6H33"/></svg>`;

const tableOf = (site: SiteFacts, { across, curves, x, write }: Panel): string => {
  const shown = marks(across).slice(1, -1).slice(0, 3);
  const unit = x.split(", ")[1];
  return (
    `<table><thead><tr><th scope="col">curve</th>${shown.map((mark) => `<th scope="col">at ${number(mark)}${unit === undefined ? "" : ` ${unit}`}</th>`).join("")}</tr></thead><tbody>` +
    curves
      .map(
        ({ name, describes, formula, source, status, note, at }, i) =>
          `<tr><th scope="row"><b>${LETTERS[i]}</b> ${swatch(i)} ${escapeHtml(name)}</th>${shown.map((mark) => `<td>${write(at(mark))}</td>`).join("")}</tr>` +
          `<tr class="about"><td colspan="${shown.length + 1}"><code>${escapeHtml(formula)}</code> ${escapeHtml(describes)}. ${escapeHtml(site.sources[source]?.title ?? source)} <span class="status">${escapeHtml(status)}</span>${note === undefined ? "" : `. ${escapeHtml(note)}`}</td></tr>`,
      )
      .join("\n") +
    `</tbody></table>`
  );
};

/** Kernels whose curves stand here. */
export const RISK_KERNELS = ["injuryRisk", "injuryRisksSideBySide", "jointInjuryRisk", "combinedThoracicIndex", "massRatioRisk", "fourthPowerRisk"] as const;

export const riskSection = (site: SiteFacts): string => {
  const figure = (panel: Panel): string => `<figure class="risk"><figcaption>${escapeHtml(panel.title)}</figcaption>${draw(panel)}${panel.differ === undefined ? "" : `<p class="differ">${escapeHtml(panel.differ)}</p>`}${tableOf(site, panel)}</figure>`;
  return `<section data-kernel="${RISK_KERNELS.join(" ")}"><h2 id="injury-risk">Published curves of injury risk</h2>
<section class="caution"><p class="kicker">Before you read on</p><p>These curves describe test dummies and populations, never one person. No page of this site sets one beside the result of a scenario, and none should: each belongs to its own test, dummy and years, sources disagree, and what happens to a person depends on much that no curve knows. Not medical advice.</p></section>
<p>Severity is on the abbreviated injury scale (AIS): 1 is minor, 6 fatal. Where several sources have a curve for the same measure and severity, they stand in one drawing, those with most disagreement first; none of them is the right one. Dashes and letters tell the curves apart. \u03a6 is the normal distribution, x the number on the horizontal axis.</p>
${riskPanels().map(figure).join("\n")}
<h3>Rules over a population</h3>
<p>Fitted to registered deaths in certain countries and years; all that differed between light and heavy cars is folded in. They say nothing of one crash.</p>
${populationPanels().map(figure).join("\n")}
</section>`;
};
