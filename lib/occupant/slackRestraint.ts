import { requireNonNegative, requirePositive } from "../check.ts";

/**
 * Peak of an occupant caught by a springing restraint after its slack.
 *
 * Model: the vehicle slows at a constant rate that outlasts the peak; the occupant is free until the slack is used up,
 * then held by a linear spring. Not for a belt that pays out or a crash that is over sooner.
 *
 * @param deceleration > 0, of the vehicle [m/s^2]
 * @param slack >= 0 [m]
 * @param stiffness > 0, of the restraint [N/m]
 * @param mass > 0, held by it [kg]
 * @returns takeUpTime until the restraint takes hold [s], peak deceleration of the occupant [m/s^2], amplification over the vehicle's [1],
 *   peakTime [s], travel inside the vehicle at the peak [m]
 * @throws RangeError outside those ranges
 * @equation takeUpTime = sqrt(2 * slack / deceleration)
 * @equation peak = deceleration * (1 + sqrt(1 + stiffness / mass * 2 * slack / deceleration))
 * @equation amplification = 1 + sqrt(1 + stiffness / mass * 2 * slack / deceleration)
 * @equation peakTime = sqrt(2 * slack / deceleration) + (pi - atan(sqrt(stiffness / mass * 2 * slack / deceleration))) / sqrt(stiffness / mass)
 * @equation travel = slack + deceleration * (1 + sqrt(1 + stiffness / mass * 2 * slack / deceleration)) * mass / stiffness
 * @source huang-2002, occupant on a slack restraint in a square pulse
 * @example slackRestraint({ deceleration: 200, slack: 0, stiffness: 40000, mass: 40 }).amplification // 2
 */
export const slackRestraint = ({ deceleration, slack, stiffness, mass }: { readonly deceleration: number; readonly slack: number; readonly stiffness: number; readonly mass: number }) => {
  requirePositive("slackRestraint", "deceleration", deceleration, "m/s^2");
  requireNonNegative("slackRestraint", "slack", slack, "m");
  requirePositive("slackRestraint", "stiffness", stiffness, "N/m");
  requirePositive("slackRestraint", "mass", mass, "kg");
  const frequency = Math.sqrt(stiffness / mass);
  const takeUpTime = Math.sqrt((2 * slack) / deceleration);
  const amplification = 1 + Math.sqrt(1 + (frequency * takeUpTime) ** 2);
  const peak = deceleration * amplification;
  return {
    takeUpTime,
    peak,
    amplification,
    peakTime: takeUpTime + (Math.PI - Math.atan(frequency * takeUpTime)) / frequency,
    travel: slack + peak / frequency ** 2,
  };
};
