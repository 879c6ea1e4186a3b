/** HTML of every live part: written by the builder for a page that is complete without scripts, and again by the elements. */
export { makeWrite } from "./state/units.ts";
export { escape } from "./render/html.ts";
export { figureOf, figureTable, renderFigure } from "./render/figure.ts";
export { type PredictOption, renderPredict } from "./render/gate.ts";
export { renderControls, renderInput } from "./render/input.ts";
export { renderClaim, renderName, renderOutput } from "./render/output.ts";
export { renderProvenance } from "./render/provenance.ts";
export { drawScene, renderScene } from "./render/scene.ts";
export { outputHtml, outputText } from "./render/value.ts";

/** The switch between unit systems, for the header of the page. */
export const renderUnitSwitch = (): string =>
  `<unit-switch><fieldset><legend>Units</legend><label><input type="radio" name="page-units" value="metric" checked disabled><span>metric</span></label><label><input type="radio" name="page-units" value="customary" disabled><span>US</span></label></fieldset></unit-switch>`;
