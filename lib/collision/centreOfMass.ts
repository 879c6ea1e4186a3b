import { requireBody, type TwoBodies } from "./body.ts";

/**
 * Centre of mass of two bodies on one line, and their motion as seen from it.
 *
 * Model: nothing outside pushes on the pair, so the centre keeps its velocity through any impact. Energy of motion falls in two:
 * what the centre carries, which no impact between the two can take, and what they have about it, which is all there is to lose.
 *
 * @param a.mass > 0 [kg]
 * @param a.velocity signed along the common line [m/s]
 * @param b.mass > 0 [kg]
 * @param b.velocity signed along the common line [m/s]
 * @returns velocity of the centre, signed [m/s]
 * @returns relative.a velocity seen from the centre, signed [m/s]
 * @returns relative.b velocity seen from the centre, signed [m/s]
 * @returns mass of both together [kg]
 * @returns reducedMass of the pair, below the lesser mass [kg]
 * @returns energy.carried with the centre, >= 0 [J]
 * @returns energy.about the centre, >= 0 [J]
 * @throws RangeError outside those ranges
 * @equation velocity = (a.mass * a.velocity + b.mass * b.velocity) / (a.mass + b.mass)
 * @equation relative.a = b.mass * (a.velocity - b.velocity) / (a.mass + b.mass)
 * @equation relative.b = -a.mass * (a.velocity - b.velocity) / (a.mass + b.mass)
 * @equation mass = a.mass + b.mass
 * @equation reducedMass = a.mass * b.mass / (a.mass + b.mass)
 * @equation energy.carried = (a.mass * a.velocity + b.mass * b.velocity)^2 / (2 * (a.mass + b.mass))
 * @equation energy.about = a.mass * b.mass / (a.mass + b.mass) * (a.velocity - b.velocity)^2 / 2
 * @source openstax-university-physics-1, section 9.6
 * @example centreOfMass({ a: { mass: 900, velocity: 15 }, b: { mass: 1800, velocity: -10 } }).relative.a // 16.666666666666668
 */
export const centreOfMass = ({ a, b }: TwoBodies) => {
  requireBody("centreOfMass", "a", a);
  requireBody("centreOfMass", "b", b);
  const mass = a.mass + b.mass;
  const velocity = (a.mass * a.velocity + b.mass * b.velocity) / mass;
  const difference = a.velocity - b.velocity;
  // The heavier one's share of the mass, so that no product of two masses can overflow or vanish.
  const reducedMass = Math.min(a.mass, b.mass) * (Math.max(a.mass, b.mass) / mass);
  return {
    velocity,
    relative: { a: (b.mass / mass) * difference, b: -(a.mass / mass) * difference },
    mass,
    reducedMass,
    energy: { carried: 0.5 * mass * velocity * velocity, about: 0.5 * reducedMass * difference * difference },
  };
};
