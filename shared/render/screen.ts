/** The view that fills the screen: a frame of 16:9, guides, and a bar that fits below what every set shows. */
import { ACTION_SAFE, GRAPHICS_SAFE, HEIGHT, WIDTH } from "../export/plate.ts";

const box = ({ left, top, right, bottom }: typeof ACTION_SAFE, name: string): string =>
  ["under", "over"].map((stroke) => `<rect class="${name} ${stroke}" x="${left}" y="${top}" width="${right - left}" height="${bottom - top}"/>`).join("");

/** Action-safe broken, graphics-safe solid, and the middle. */
const guidesSvg = `<svg class="guides" viewBox="0 0 ${WIDTH} ${HEIGHT}" aria-hidden="true" hidden>${box(ACTION_SAFE, "action")}${box(GRAPHICS_SAFE, "graphics")}<path class="under" d="M${WIDTH / 2 - 24} ${HEIGHT / 2}h48m-24-24v48"/><path class="over" d="M${WIDTH / 2 - 24} ${HEIGHT / 2}h48m-24-24v48"/></svg>`;

/** `key` is written beside the words on wide screens; both are the name. */
const button = (action: string, words: string, key: string, toggle = false): string => `<button type="button" data-do="${action}" aria-keyshortcuts="${key}"${toggle ? ' aria-pressed="false"' : ""}>${words}<kbd aria-hidden="true">${key.replace("Escape", "Esc").replace("PageUp", "PgUp").replace("PageDown", "PgDn")}</kbd></button>`;

export const renderScreen = (): string => `<div class="frame" tabindex="-1" role="group" aria-roledescription="picture" aria-label="On screen">
<div class="sheet" role="img"></div><p class="no-picture" hidden></p>${guidesSvg}<div class="blank" hidden></div></div>
<div class="bar" role="group" aria-label="What is on screen">
${button("close", "Close", "Escape")}${button("back", "Back", "PageUp")}${button("next", "Next", "PageDown")}
<label class="scrub"><span class="visually-hidden">Instant</span><input type="range" min="0" max="0" step="1" value="0"></label><output class="time"></output>
${button("reveal", "Reveal", "R")}${button("guides", "Guides", "G", true)}${button("blank", "Blank", "B", true)}
<label class="ground"><span class="visually-hidden">Ground</span><select><option value="light">Light</option><option value="dark">Dark</option><option value="none">Transparent</option></select></label>
${button("full", "Full screen", "F", true)}<button type="button" data-do="keep" aria-expanded="false" aria-controls="screen-keep">Keep</button>
</div>
<section class="keep" id="screen-keep" aria-label="Keep" hidden></section>
<p class="visually-hidden said" role="status"></p>`;
