import { requirePositive, requireThat } from "../check.ts";

/**
 * Width that a camera sees, what one pixel of it covers, and how many pixels a marker gets.
 *
 * Model: pinhole: straight rays through one point, no distortion, the plane of motion square to the line of sight. For a subject
 * many focal lengths away; nearer, see thinLens.
 *
 * @param sensorWidth used by the picture, > 0 [m]
 * @param focalLength > 0 [m]
 * @param distance from the lens to the plane of motion, > 0 [m]
 * @param pixelsAcross the picture, > 0 [1]
 * @param markerWidth > 0 [m]
 * @returns angle from one edge of the picture to the other [rad]
 * @returns width of the field in the plane of motion [m]
 * @returns pixelSize what one pixel covers in the plane of motion [m]
 * @returns markerPixels across a marker [1]
 * @throws RangeError outside those ranges
 * @equation angle = 2 * atan(sensorWidth / (2 * focalLength))
 * @equation width = sensorWidth * distance / focalLength
 * @equation pixelSize = sensorWidth * distance / focalLength / pixelsAcross
 * @equation markerPixels = markerWidth * pixelsAcross * focalLength / (sensorWidth * distance)
 * @source derived, similar triangles
 * @example fieldOfView({ sensorWidth: 0.02, focalLength: 0.035, distance: 14, pixelsAcross: 1280, markerWidth: 0.1 }).width // 8
 */
export const fieldOfView = ({ sensorWidth, focalLength, distance, pixelsAcross, markerWidth }: {
  readonly sensorWidth: number;
  readonly focalLength: number;
  readonly distance: number;
  readonly pixelsAcross: number;
  readonly markerWidth: number;
}) => {
  requirePositive("fieldOfView", "sensorWidth", sensorWidth, "m");
  requirePositive("fieldOfView", "focalLength", focalLength, "m");
  requirePositive("fieldOfView", "distance", distance, "m");
  requirePositive("fieldOfView", "pixelsAcross", pixelsAcross);
  requirePositive("fieldOfView", "markerWidth", markerWidth, "m");
  const width = (sensorWidth * distance) / focalLength;
  const pixelSize = width / pixelsAcross;
  return { angle: 2 * Math.atan(sensorWidth / (2 * focalLength)), width, pixelSize, markerPixels: markerWidth / pixelSize };
};

/**
 * Where to stand so that a lens sees a wanted width.
 *
 * Model: pinhole, as fieldOfView.
 *
 * @param sensorWidth used by the picture, > 0 [m]
 * @param focalLength > 0 [m]
 * @param width wanted in the plane of motion, > 0 [m]
 * @returns distance from the lens to the plane of motion [m]
 * @throws RangeError outside those ranges
 * @equation distance = width * focalLength / sensorWidth
 * @source derived, similar triangles
 * @example distanceForField({ sensorWidth: 0.0256, focalLength: 0.05, width: 8 }).distance // 15.625
 */
export const distanceForField = ({ sensorWidth, focalLength, width }: { readonly sensorWidth: number; readonly focalLength: number; readonly width: number }) => {
  requirePositive("distanceForField", "sensorWidth", sensorWidth, "m");
  requirePositive("distanceForField", "focalLength", focalLength, "m");
  requirePositive("distanceForField", "width", width, "m");
  return { distance: (width * focalLength) / sensorWidth };
};

/**
 * Where a lens forms the picture of something at a distance, how large, and what width fills the sensor.
 *
 * Model: thin lens in focus. Holds for a real picture, of a subject beyond the focal length.
 *
 * @param focalLength > 0 [m]
 * @param distance from the lens to the subject, > focalLength [m]
 * @param sensorWidth > 0 [m]
 * @returns imageDistance from the lens to the picture, > 0 [m]
 * @returns magnification < 0: the picture stands on its head [1]
 * @returns width that fills the sensor [m]
 * @throws RangeError outside those ranges
 * @equation imageDistance = focalLength * distance / (distance - focalLength)
 * @equation magnification = -focalLength / (distance - focalLength)
 * @equation width = sensorWidth * (distance - focalLength) / focalLength
 * @source openstax-university-physics-3, section 2.4, thin-lens equation
 * @example thinLens({ focalLength: 0.05, distance: 3, sensorWidth: 0.036 }).width // 2.124
 */
export const thinLens = ({ focalLength, distance, sensorWidth }: { readonly focalLength: number; readonly distance: number; readonly sensorWidth: number }) => {
  requirePositive("thinLens", "focalLength", focalLength, "m");
  requirePositive("thinLens", "distance", distance, "m");
  requireThat(distance > focalLength, "thinLens", "distance", `> ${focalLength} m, the focal length (nearer, no picture forms behind the lens)`, distance);
  requirePositive("thinLens", "sensorWidth", sensorWidth, "m");
  const beyond = distance - focalLength;
  return { imageDistance: (focalLength * distance) / beyond, magnification: -focalLength / beyond, width: (sensorWidth * beyond) / focalLength };
};
