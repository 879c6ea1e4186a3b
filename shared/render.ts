/** HTML of every live part: written by the builder for a page that is complete without scripts, and again by the elements. */
export { makeWrite } from "./state/units.ts";
export { escape } from "./render/html.ts";
export { figureOf, renderFigure } from "./render/figure.ts";
export { type PredictOption, renderPredict, renderReplies } from "./render/gate.ts";
export { renderControls, renderInput } from "./render/input.ts";
export { renderClaim, renderName, renderOutput } from "./render/output.ts";
export { type AskedQuestion, renderQuestion } from "./render/question.ts";
export { renderProvenance } from "./render/provenance.ts";
export { renderHeld } from "./render/held.ts";
export { drawScene, renderScene } from "./render/scene.ts";
export { statusLine } from "./render/status.ts";
export { renderUnitSwitch } from "./render/switch.ts";
export { outputHtml, outputText } from "./render/value.ts";
