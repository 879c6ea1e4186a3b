/** What each camera of a show will see of the meeting: from the scenario's own numbers, by the filming kernels. */
import { fieldOfView, framesInPulse, motionBlur, parallaxError, playbackRatio, recordLength, vehiclesAlone } from "../lib/index.ts";
import type { Scenario, ScenarioCamera, ScenarioVehicle } from "../shared/scenario/scenario.ts";
import { formatSignificant } from "../shared/state/numbers.ts";
import { escapeHtml } from "./html.ts";

const FIGURES = 3;
/** Where a show lists no markers, what one of this width would cover [m]. */
const MARKER = 0.1;

const text = (value: number, unit = ""): string => `${formatSignificant(value, FIGURES, "en")}${unit === "" ? "" : `\u00a0${unit}`}`;

const inMeeting = ({ mass, speed, front: { nose, cell, length } }: ScenarioVehicle) => ({
  mass: mass.value,
  speed: speed.value,
  // the nose, then the cell, far enough to take any meeting
  front: { crush: [0, length.value, length.value + 10], force: [0, nose.value * length.value, nose.value * length.value + 10 * cell.value] },
  unloading: "none" as const,
});

/** From first touch until both have one velocity, what is in the vehicles fixed to them [s]; null where they never have. */
export const pulseDuration = ({ a, b }: Scenario): number | null => vehiclesAlone({ a: inMeeting(a), b: inMeeting(b) }).times.commonVelocity;

const GIGABYTE = 1e9;

/** From the first release until both have one velocity; without a site, from first touch. */
const wanted = ({ a, b, site }: Scenario, pulse: number): number => pulse + (site === undefined ? 0 : Math.max(site.coast.a.value / a.speed.value, site.coast.b.value / b.speed.value));

const column = (camera: ScenarioCamera, scenario: Scenario, pulse: number): readonly string[] => {
  const { a, b, markers } = scenario;
  const away = camera.distance.value;
  const speed = camera.watches === "both" ? Math.max(a.speed.value, b.speed.value) : scenario[camera.watches].speed.value;
  const { width, pixelSize, markerPixels } = fieldOfView({ sensorWidth: camera.sensorWidth.value, focalLength: camera.focalLength.value, distance: away, pixelsAcross: camera.pixelsAcross.value, markerWidth: markers?.width.value ?? MARKER });
  const captureRate = camera.captureRate.value;
  const { movementPerFrame, fewestFrames } = framesInPulse({ captureRate, speed, pulseDuration: pulse });
  const { blurPixels, allowedExposure } = motionBlur({ speed, exposure: camera.exposure.value, pixelSize });
  const { duration, wantedMemory } = recordLength({ wantedDuration: wanted(scenario, pulse), memory: camera.memory.value, pixelsAcross: camera.pixelsAcross.value, pixelsDown: camera.pixelsDown.value, bitsPerPixel: camera.bitsPerPixel.value, captureRate });
  // a scale that lies nearer the camera looks longer: what moves behind it then reads short
  const scale = markers === undefined || markers.baselineOffset.value >= away ? undefined : parallaxError({ distance: away - markers.baselineOffset.value, offset: -markers.baselineOffset.value });
  const { slowDown, screenDuration } = playbackRatio({ captureRate, projectRate: camera.projectRate.value, playbackRate: camera.playbackRate.value, eventDuration: pulse });
  return [
    camera.watches === "both" ? "both" : scenario[camera.watches].name,
    `${text(captureRate, "Hz")}; ${text(camera.projectRate.value, "Hz")}; ${text(camera.playbackRate.value, "Hz")}`,
    `${text(away, "m")}${camera.distance.give > 0 ? ` \u00b1 ${text(camera.distance.give, "m")}` : ""}`,
    text(width, "m"),
    text(pixelSize * 1000, "mm"),
    text(movementPerFrame * 1000, "mm"),
    String(fewestFrames),
    text(camera.exposure.value * 1000, "ms"),
    `${text(blurPixels, "px")}; 1\u00a0px at ${text(allowedExposure * 1000, "ms")}`,
    text(markerPixels, "px"),
    markers === undefined || scale === undefined ? "none in the picture" : `${text(markers.baseline.value / pixelSize / scale.ratio, "px")}; ${scale.scaleError === 0 ? "as it is" : `${text(Math.abs(scale.scaleError) * 100, "%")} too ${scale.scaleError < 0 ? "short" : "long"}`}`,
    `${text(slowDown)} times; ${text(screenDuration, "s")}`,
    text(duration, "s"),
    `${text(wantedMemory / GIGABYTE, "GB")} of ${text(camera.memory.value / GIGABYTE, "GB")}${wantedMemory > camera.memory.value ? ": TOO LITTLE" : ""}`,
  ];
};

const HEAD = ["watches", "capture, project, playback rate", "stand-off, from what moves", "sees a width of", "one pixel covers", "moves from frame to frame", "whole frames in the pulse", "exposure, as set", "smear; exposure for one pixel", "a marker covers", "known length covers; by it, what moves reads", "slowed; pulse on screen", "record lasts", "needs of its memory"];

/** The plan as a table, and what it rests on. Nothing for a show without cameras. */
export const cameraPlan = (scenario: Scenario): string | undefined => {
  const { cameras, markers } = scenario;
  const pulse = pulseDuration(scenario);
  if (cameras === undefined || pulse === null) return undefined;
  const columns = cameras.map((camera) => column(camera, scenario, pulse));
  const rows = HEAD.map((what, i) => `<tr><th scope="row">${escapeHtml(what)}</th>${columns.map((cells) => `<td>${escapeHtml(cells[i] ?? "")}</td>`).join("")}</tr>`);
  return (
    `<p>A pulse of ${text(pulse * 1000, "ms")}, from first touch to one velocity, the structures as given and what is in the vehicles fixed; the fastest vehicle in the picture at its speed of touch. ${markers === undefined ? `The scenario lists no markers: one of ${text(MARKER * 1000, "mm")} is taken.` : `Markers of ${text(markers.width.value * 1000, "mm")}; a known length of ${text(markers.baseline.value, "m")} in the picture, nearer the camera by ${text(markers.baselineOffset.value, "m")}.`} Memory for ${text(wanted(scenario, pulse) * 1000, "ms")}, ${scenario.site === undefined ? "the pulse alone" : "from the first release to one velocity"}: what a trigger needs before and after comes on top.</p>` +
    `<div class="table" tabindex="0" role="region" aria-label="What each camera sees"><table class="cameras"><thead><tr><th scope="col">camera</th>${cameras.map(({ name }) => `<th scope="col">${escapeHtml(name)}</th>`).join("")}</tr></thead><tbody>${rows.join("")}</tbody></table></div>` +
    `<ul class="left-open"><li>Left open here: light and its flicker, focus and depth, the height of the lens, the trigger and a second one, power, dust. Try each on the rehearsal.</li><li>No camera is worth a person: each is started and looked after from outside the area that is kept empty, and each stands where losing it does no harm.</li></ul>`
  );
};
