import { requireNonNegative, requirePositive } from "../check.ts";

/**
 * Belted occupant riding a crash down: slack first, then a steady restraint.
 *
 * Model: the vehicle slows at a constant rate over its own stopping distance; the occupant is free until the slack is used
 * up, then slows at a constant rate until stopped, or until moving with the vehicle. The distance over the ground is the
 * vehicle's and the travel inside it. Not for a restraint that springs.
 *
 * @param speed > 0, of both at the start [m/s]
 * @param vehicleDistance > 0, in which the vehicle stops [m]
 * @param slack >= 0, free travel inside before the restraint takes hold [m]
 * @param restraintDeceleration > 0, of the occupant while held [m/s^2]
 * @returns takeUpTime, from the start until the restraint takes hold [s], freeDistance covered over the ground until then [m],
 *   travel inside the vehicle in all [m], distance over the ground in all [m], meanDeceleration along it [m/s^2], time to a stop [s],
 *   efficiency: share of the occupant's energy taken while the vehicle itself was giving way [1]
 * @throws RangeError outside those ranges
 * @equation takeUpTime = 2 * sqrt(min(slack, vehicleDistance) * vehicleDistance) / speed + max(0, slack - vehicleDistance) / speed
 * @equation freeDistance = 2 * sqrt(min(slack, vehicleDistance) * vehicleDistance) + max(0, slack - vehicleDistance)
 * @source huang-2002, definition of ride-down; closed form derived here
 * @example rideDown({ speed: 15.6464, vehicleDistance: 0.6, slack: 0.03, restraintDeceleration: 200 }).efficiency // 0.5909430
 */
export const rideDown = ({ speed, vehicleDistance, slack, restraintDeceleration }: { readonly speed: number; readonly vehicleDistance: number; readonly slack: number; readonly restraintDeceleration: number }) => {
  requirePositive("rideDown", "speed", speed, "m/s");
  requirePositive("rideDown", "vehicleDistance", vehicleDistance, "m");
  requireNonNegative("rideDown", "slack", slack, "m");
  requirePositive("rideDown", "restraintDeceleration", restraintDeceleration, "m/s^2");
  const vehicleDeceleration = speed ** 2 / (2 * vehicleDistance);
  const vehicleTime = speed / vehicleDeceleration;
  const freeDistance = 2 * Math.sqrt(Math.min(slack, vehicleDistance) * vehicleDistance) + Math.max(0, slack - vehicleDistance);
  const takeUpTime = freeDistance / speed;
  const alone = takeUpTime + speed / restraintDeceleration;
  // a firm restraint brings the occupant to the vehicle's speed while it still moves; from there they stop together
  const outlastsVehicle = alone >= vehicleTime;
  const travel = outlastsVehicle
    ? freeDistance + speed ** 2 / (2 * restraintDeceleration) - vehicleDistance
    : (slack * restraintDeceleration) / (restraintDeceleration - vehicleDeceleration);
  const distance = vehicleDistance + travel;
  const energy = speed ** 2 / 2;
  return {
    takeUpTime,
    freeDistance,
    travel,
    distance,
    meanDeceleration: energy / distance,
    time: outlastsVehicle ? alone : vehicleTime,
    efficiency: 1 - (restraintDeceleration * (travel - slack)) / energy,
  };
};
