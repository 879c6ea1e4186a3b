import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { distanceForField, fieldOfView, thinLens } from "../../../lib/filming/fieldOfView.ts";
import { framesInPulse } from "../../../lib/filming/frames.ts";
import { motionBlur, shutterExposure } from "../../../lib/filming/motionBlur.ts";
import { parallaxError } from "../../../lib/filming/parallax.ts";
import { playbackRatio, trueSpeed } from "../../../lib/filming/playback.ts";
import { recordLength } from "../../../lib/filming/recordLength.ts";
import { rollingShutterLean } from "../../../lib/filming/rollingShutter.ts";

const EXACT = 1e-12; // relative: a few roundings

const near = (value: number, target: number, relative = EXACT): void => expect(Math.abs(value - target), `${value} against ${target}`).toBeLessThanOrEqual(relative * Math.abs(target));

/** Rates of projects and screens: ITU-R BT.2020, second-hand; the fractional ones as ratios, from memory. */
const RATES = [24000 / 1001, 24, 25, 30000 / 1001, 30, 50, 60000 / 1001, 60, 120];
/** Capture rates in use, common practice, no source. */
const CAPTURE_RATES = [25, 50, 120, 240, 500, 1000, 2000, 5000];

describe("framesInPulse(…)", () => {
  test("gives 15 mm a frame at 15 m/s and 1000 frames a second", () => near(framesInPulse({ captureRate: 1000, speed: 15, pulseDuration: 0.07 }).movementPerFrame, 0.015));
  test("gives 62.5 mm a frame and about 17 frames in 70 ms at 240 frames a second", () => {
    const { movementPerFrame, frames, fewestFrames } = framesInPulse({ captureRate: 240, speed: 15, pulseDuration: 0.07 });
    near(movementPerFrame, 0.0625);
    expect(Math.round(frames)).toBe(17);
    expect(fewestFrames).toBe(16);
  });
  test.each(CAPTURE_RATES)("counts the frames of 1 s at %d frames a second", (captureRate) => expect(framesInPulse({ captureRate, speed: 15, pulseDuration: 1 }).frames).toBe(captureRate));
  test("refuses a rate of 0", () => expect(() => framesInPulse({ captureRate: 0, speed: 1, pulseDuration: 1 })).toThrow("framesInPulse: captureRate must be > 0 1/s, got 0"));
});

describe("motionBlur(…)", () => {
  test("allows 1/7200 s for one pixel at 15 m/s where 8 m fill 3840 pixels", () => {
    const pixelSize = 8 / 3840;
    near(motionBlur({ speed: 15, exposure: 1 / 7200, pixelSize }).blurPixels, 1);
    near(motionBlur({ speed: 15, exposure: 0.001, pixelSize }).allowedExposure, 1 / 7200);
  });
  test("smears by exactly the pixels allowed at the exposure it allows", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 60, noNaN: true }), fc.double({ min: 1e-4, max: 0.01, noNaN: true }), fc.double({ min: 0.1, max: 5, noNaN: true }), (speed, pixelSize, allowedPixels) => {
        const { allowedExposure } = motionBlur({ speed, exposure: 1, pixelSize, allowedPixels });
        near(motionBlur({ speed, exposure: allowedExposure, pixelSize }).blurPixels, allowedPixels);
      }),
      { numRuns: 200, seed: 1 },
    );
  });
  test("of a shutter open all the time equals the movement from frame to frame", () => {
    const { exposure, stopsLost } = shutterExposure({ shutterAngle: 2 * Math.PI, captureRate: 240 });
    near(motionBlur({ speed: 15, exposure, pixelSize: 0.002 }).blur, framesInPulse({ captureRate: 240, speed: 15, pulseDuration: 1 }).movementPerFrame);
    expect(stopsLost).toBe(0);
  });
});

describe("fieldOfView(…)", () => {
  const camera = { sensorWidth: 0.0256, focalLength: 0.05, pixelsAcross: 3840, markerWidth: 0.1 };
  test("sees the wanted width from distanceForField(…)", () => {
    const { distance } = distanceForField({ ...camera, width: 8 });
    const { width, pixelSize, markerPixels } = fieldOfView({ ...camera, distance });
    near(width, 8);
    near(pixelSize, 8 / 3840);
    near(markerPixels, 48);
  });
  test("sees twice the width of its half angle's tangent at any distance", () => {
    for (const distance of [1, 15.625, 100]) {
      const { angle, width } = fieldOfView({ ...camera, distance });
      near(2 * distance * Math.tan(angle / 2), width);
    }
  });
  test("comes nearer to thinLens(…) the farther the subject", () => {
    const apart = (distance: number): number => fieldOfView({ ...camera, distance }).width / thinLens({ ...camera, distance }).width - 1;
    near(apart(12), 0.05 / (12 - 0.05), 1e-9);
    expect(apart(120)).toBeLessThan(apart(12) / 9.9);
  });
  test("refuses, in thinLens(…), a subject at the focal length", () => expect(() => thinLens({ focalLength: 0.05, distance: 0.05, sensorWidth: 0.036 })).toThrow(RangeError));
});

describe("recordLength(…)", () => {
  test("needs for its own duration no more memory than it has", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1e8, max: 1e11 }), fc.constantFrom(...CAPTURE_RATES), fc.constantFrom(8, 10, 12), (memory, captureRate, bitsPerPixel) => {
        const camera = { pixelsAcross: 1920, pixelsDown: 1080, bitsPerPixel, captureRate };
        const { frames, duration, bytesPerFrame } = recordLength({ ...camera, memory });
        fc.pre(frames > 0);
        expect(frames * bytesPerFrame).toBeLessThanOrEqual(memory);
        expect((frames + 1) * bytesPerFrame).toBeGreaterThan(memory);
        near(duration * captureRate, frames);
      }),
      { numRuns: 200, seed: 1 },
    );
  });
});

describe("parallaxError(…)", () => {
  test("vanishes in the plane of the baseline and changes sign behind it", () => {
    expect(parallaxError({ distance: 12, offset: 0 })).toEqual({ ratio: 1, scaleError: 0, correction: 1 });
    expect(parallaxError({ distance: 12, offset: 0.5 }).scaleError).toBeGreaterThan(0);
    expect(parallaxError({ distance: 12, offset: -0.5 }).scaleError).toBeLessThan(0);
  });
  test("equals the ratio of what one pixel covers in both planes", () => {
    const camera = { sensorWidth: 0.02, focalLength: 0.035, pixelsAcross: 1280, markerWidth: 0.1 };
    near(parallaxError({ distance: 12, offset: 0.9 }).ratio, fieldOfView({ ...camera, distance: 12 }).pixelSize / fieldOfView({ ...camera, distance: 11.1 }).pixelSize);
  });
  test("refuses a motion behind the camera", () => expect(() => parallaxError({ distance: 2, offset: 2 })).toThrow(/behind the camera/));
});

describe("rollingShutterLean(…)", () => {
  test("vanishes where all lines are read at once", () => expect(rollingShutterLean({ speed: 15, readoutTime: 0, pixelSize: 0.002 })).toEqual({ lean: 0, leanPixels: 0 }));
});

describe("the three rates of a film", () => {
  const SPEED = 15;
  const combinations = CAPTURE_RATES.flatMap((captureRate) => RATES.flatMap((projectRate) => RATES.map((playbackRate) => ({ captureRate, projectRate, playbackRate }))));

  test(`trueSpeed(…) recovers a known speed from a made film, by each clock, for ${combinations.length} combinations`, () => {
    const COUNT = 1 / 200; // one frame in the 200 or more that the marker is watched for
    for (const rates of combinations) {
      // A marker passes a course; every frame in which it is on the course is counted, as a reader of the film would.
      const length = (SPEED * 250) / rates.captureRate;
      let frames = 0;
      for (let i = 0; (SPEED * i) / rates.captureRate < length; i++) frames = i + 1;
      expect(frames).toBeGreaterThan(200);
      const apparent = { screen: length / (frames / rates.playbackRate), timeline: length / (frames / rates.projectRate), frames: length / (frames / rates.captureRate) };
      for (const timedBy of ["screen", "timeline", "frames"] as const) near(trueSpeed({ timedBy, apparentSpeed: apparent[timedBy], ...rates }).speed, SPEED, COUNT);
    }
  });

  test("never mix: exchanging any two of three different rates changes a result", () => {
    const event = { eventDuration: 0.1, captureRate: 1000, projectRate: 50, playbackRate: 25 };
    const right = playbackRatio(event);
    expect(right).toMatchObject({ slowDown: 40, timelineSlowDown: 20, screenDuration: 4, timelineDuration: 2, motion: "slow motion" });
    const exchanged = [
      { ...event, captureRate: 50, projectRate: 1000 },
      { ...event, projectRate: 25, playbackRate: 50 },
      { ...event, captureRate: 25, playbackRate: 1000 },
    ];
    for (const wrong of exchanged) expect(playbackRatio(wrong)).not.toEqual(right);
    expect(exchanged.map((wrong) => playbackRatio(wrong).motion)).toEqual(["slow motion", "slow motion", "faster than life"]);
  });

  test("playbackRatio(…) refuses a rate left out", () => expect(() => playbackRatio({ captureRate: 1000, projectRate: 25, eventDuration: 1 } as never)).toThrow(/playbackRatio: playbackRate must be a number/));
  test("trueSpeed(…) refuses a clock that it does not know", () => expect(() => trueSpeed({ timedBy: "guess" as never, apparentSpeed: 1, captureRate: 1, projectRate: 1, playbackRate: 1 })).toThrow("must be one of screen, timeline, frames"));
});
