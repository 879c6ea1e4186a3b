/** The switch between unit systems, for the header of the page. */
export const renderUnitSwitch = (): string =>
  `<unit-switch><fieldset><legend>Units</legend><label><input type="radio" name="page-units" value="metric" checked disabled><span>metric</span></label><label><input type="radio" name="page-units" value="customary" disabled><span>US</span></label></fieldset></unit-switch>`;
