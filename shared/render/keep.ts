/** The panel of what can be kept. */
import { INTER } from "../export/type/inter.ts";

const option = (value: string, words: string, chosen = false): string => `<option value="${value}"${chosen ? " selected" : ""}>${words}</option>`;
const USUAL_RATE = "25";

export const renderKeep = (rates: readonly string[], video: boolean): string => `<h2>Keep</h2>
<fieldset class="still"><legend>This picture</legend>
<button type="button" data-keep="svg">SVG</button><button type="button" data-keep="hd">PNG 1920 × 1080</button><button type="button" data-keep="uhd">PNG 3840 × 2160</button></fieldset>
<fieldset class="motion"><legend>Slow motion: numbered PNG in a zip${video ? ", or a draft" : ""}</legend>
<label>Frames a second <select class="rate">${rates.map((rate) => option(rate, rate, rate === USUAL_RATE)).join("")}</select></label>
<label>Slowed <input class="slowed" type="text" inputmode="decimal" size="5" autocomplete="off"> times</label>
<label>From <input class="from" type="text" inputmode="decimal" size="5" autocomplete="off"> ms</label>
<label>to <input class="to" type="text" inputmode="decimal" size="5" autocomplete="off"> ms</label>
<label>Size <select class="size">${option("hd", "1920 × 1080", true)}${option("uhd", "3840 × 2160")}</select></label>
<p class="count"></p>
<button type="button" data-keep="frames">Draw frames</button>${video ? '<button type="button" data-keep="video">Draft video</button>' : ""}
<p class="progress" hidden><progress aria-label="Frames drawn" max="1" value="0"></progress> <span class="done"></span> <button type="button" data-keep="cancel" disabled>Cancel</button></p></fieldset>
<p class="kept" role="status"></p>
<p class="hint">On the ground that is chosen below; Transparent has straight alpha. Type is ${INTER.name} as outlines (The Inter Project Authors, SIL Open Font License 1.1). This browser draws the pixels: edges may differ by a shade from those of the command line, whose files are the same on every machine.${video ? " A draft video is near its rate and not exact, and has no transparency." : " This browser records no video: an editing program makes one from the frames."}</p>`;
