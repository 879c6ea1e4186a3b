import type { ReaderUnits } from "../kinds.ts";

/** Said once at the top of a page whose scripts are off. */
const SHEET = `<p class="unscripted-only">This page works without scripts as a sheet to read; with scripts on, its numbers move.</p>`;

/** The switch between unit systems, for the header of the page. */
export const renderUnitSwitch = (units: ReaderUnits = "metric"): string =>
  `<unit-switch><fieldset><legend>Units</legend><label><input type="radio" name="page-units" value="metric"${units === "metric" ? " checked" : ""} disabled><span>metric</span></label><label><input type="radio" name="page-units" value="customary"${units === "customary" ? " checked" : ""} disabled><span>US</span></label></fieldset></unit-switch>${SHEET}`;
