import { requireBetween, requireFinite, requireNonNegative, requirePositive, requireThat } from "../check.ts";
import { planarEnergy, requirePlanar, requirePlanarBody, type Planar, type PlanarBody } from "./planarBody.ts";

export interface RigidBody extends PlanarBody {
  /** About the mass centre, > 0 [kg m^2] */
  readonly inertia: number;
  /** Anticlockwise [rad/s] */
  readonly angularVelocity: number;
  /** From the mass centre to the point of contact [m] */
  readonly contact: Planar;
}

export interface PlanarImpactInput {
  readonly a: RigidBody;
  readonly b: RigidBody;
  /** Direction of the contact's normal, from a into b, anticlockwise from x [rad] */
  readonly normalAngle: number;
  readonly restitution: number;
  readonly friction: number;
}

/** What becomes of the slip along the contact: it lasts to the end, it ends, or it ends and starts again the other way. */
export type ContactOutcome = "slides" | "sticks" | "turns";

const velocityAtContact = ({ velocity, angularVelocity, contact }: RigidBody): Planar => ({ x: velocity.x - angularVelocity * contact.y, y: velocity.y + angularVelocity * contact.x });

const requireRigidBody = (name: string, body: RigidBody): void => {
  requirePlanarBody("planarImpact", name, body);
  requirePositive("planarImpact", `${name}.inertia`, body.inertia, "kg m^2");
  requireFinite("planarImpact", `${name}.angularVelocity`, body.angularVelocity, "rad/s");
  requirePlanar("planarImpact", `${name}.contact`, body.contact, "m");
};

/** The body after an impulse at its point of contact. */
const pushed = ({ mass, inertia, velocity, angularVelocity, contact }: RigidBody, impulse: Planar) => ({
  velocity: { x: velocity.x + impulse.x / mass, y: velocity.y + impulse.y / mass },
  angularVelocity: angularVelocity + (contact.x * impulse.y - contact.y * impulse.x) / inertia,
});

const energyOf = (body: RigidBody, { velocity, angularVelocity }: { readonly velocity: Planar; readonly angularVelocity: number }): number =>
  planarEnergy({ mass: body.mass, velocity }) + 0.5 * body.inertia * angularVelocity ** 2;

/**
 * Velocities and turning of two rigid bodies after they touch at one point in the plane, with the impulse and the energy that it takes.
 *
 * Model: the impulse acts at one point, at once; neither body moves while it acts and nothing else pushes. Along the normal the point
 * of contact parts at a fixed share of the speed it met at (Newton's restitution). Along the tangent friction times the normal impulse
 * opposes the slip while there is any. Where the slip ends, friction holds it (contact: sticks); where friction is too weak to hold it
 * against the push along the normal, the slip starts the other way, and friction with it (contact: turns). That restitution and a slip
 * turned round can together make energy appear; the tangential impulse is then cut to where none does. The contact carries no moment.
 * Not for long contacts, snagging, or bodies that turn far while they touch.
 *
 * @param a.mass > 0 [kg]
 * @param a.inertia about the mass centre, > 0 [kg m^2]
 * @param a.velocity.x of the mass centre [m/s]
 * @param a.velocity.y of the mass centre [m/s]
 * @param a.angularVelocity anticlockwise [rad/s]
 * @param a.contact.x from the mass centre to the point of contact [m]
 * @param a.contact.y from the mass centre to the point of contact [m]
 * @param b.mass > 0 [kg]
 * @param b.inertia about the mass centre, > 0 [kg m^2]
 * @param b.velocity.x of the mass centre [m/s]
 * @param b.velocity.y of the mass centre [m/s]
 * @param b.angularVelocity anticlockwise [rad/s]
 * @param b.contact.x from the mass centre to the point of contact [m]
 * @param b.contact.y from the mass centre to the point of contact [m]
 * @param normalAngle direction of the normal from a into b, anticlockwise from x [rad]
 * @param restitution along the normal, 0 to 1 [1]
 * @param friction largest share of the normal impulse that acts along the tangent, >= 0 [1]
 * @returns contact slides, sticks or turns
 * @returns closingSpeed of the point of contact along the normal, >= 0 [m/s]
 * @returns slip.before of a over b along the tangent, a quarter turn anticlockwise from the normal [m/s]
 * @returns slip.after of a over b [m/s]
 * @returns impulse.normal on b, along the normal, >= 0; a receives as much the other way [N s]
 * @returns impulse.tangential on b, along the tangent, signed [N s]
 * @returns impulse.x on b [N s]
 * @returns impulse.y on b [N s]
 * @returns impulseRatio tangential over normal, signed [1]
 * @returns stickingRatio at which the slip just ends, signed; null where no push could end it [1]
 * @returns compliance.normal speed along the normal for each unit of impulse along it [1/kg]
 * @returns compliance.coupled speed along the normal for each unit of impulse along the tangent [1/kg]
 * @returns compliance.tangential speed along the tangent for each unit of impulse along it [1/kg]
 * @returns after.a.velocity.x of the mass centre [m/s]
 * @returns after.a.velocity.y of the mass centre [m/s]
 * @returns after.a.angularVelocity anticlockwise [rad/s]
 * @returns after.b.velocity.x of the mass centre [m/s]
 * @returns after.b.velocity.y of the mass centre [m/s]
 * @returns after.b.angularVelocity anticlockwise [rad/s]
 * @returns deltaV.a size of the change of velocity of the mass centre, >= 0 [m/s]
 * @returns deltaV.b size of the change of velocity of the mass centre, >= 0 [m/s]
 * @returns forceDirection.a of the impulse on a, anticlockwise from x, between -pi and pi [rad]
 * @returns forceDirection.b of the impulse on b, anticlockwise from x, between -pi and pi [rad]
 * @returns energy.before of motion and turning, >= 0 [J]
 * @returns energy.after of motion and turning, >= 0 [J]
 * @returns energy.normal dissipated across the contact, less what a slip turned round takes up, >= 0 [J]
 * @returns energy.tangential dissipated along the contact, >= 0 [J]
 * @returns energy.dissipated >= 0 [J]
 * @throws RangeError outside those ranges, or when the points of contact move apart
 * @equation closingSpeed = (a.velocity.x - a.angularVelocity * a.contact.y - b.velocity.x + b.angularVelocity * b.contact.y) * cos(normalAngle) + (a.velocity.y + a.angularVelocity * a.contact.x - b.velocity.y - b.angularVelocity * b.contact.x) * sin(normalAngle)
 * @equation impulse.normal = (1 + restitution) * closingSpeed / (compliance.normal + impulseRatio * compliance.coupled)
 * @equation impulse.tangential = impulseRatio * impulse.normal
 * @equation impulse.x = impulse.normal * cos(normalAngle) - impulse.tangential * sin(normalAngle)
 * @equation impulse.y = impulse.normal * sin(normalAngle) + impulse.tangential * cos(normalAngle)
 * @equation slip.after = slip.before - compliance.coupled * impulse.normal - compliance.tangential * impulse.tangential
 * @equation after.a.velocity.x = a.velocity.x - impulse.x / a.mass
 * @equation after.a.velocity.y = a.velocity.y - impulse.y / a.mass
 * @equation after.a.angularVelocity = a.angularVelocity - (a.contact.x * impulse.y - a.contact.y * impulse.x) / a.inertia
 * @equation after.b.velocity.x = b.velocity.x + impulse.x / b.mass
 * @equation after.b.velocity.y = b.velocity.y + impulse.y / b.mass
 * @equation after.b.angularVelocity = b.angularVelocity + (b.contact.x * impulse.y - b.contact.y * impulse.x) / b.inertia
 * @equation deltaV.a = sqrt(impulse.x^2 + impulse.y^2) / a.mass
 * @equation deltaV.b = sqrt(impulse.x^2 + impulse.y^2) / b.mass
 * @equation energy.normal = impulse.normal * closingSpeed * (1 - restitution) / 2 + min(0, impulse.tangential * (slip.before + slip.after) / 2)
 * @equation energy.tangential = max(0, impulse.tangential * (slip.before + slip.after) / 2)
 * @equation energy.dissipated = energy.normal + energy.tangential
 * @source brach-1983, equations of impulse and momentum without a contact moment
 * @source derived, energy of each impulse as its mean speed of approach
 * @example planarImpact({ a: { mass: 900, inertia: 1100, velocity: { x: 15, y: 0 }, angularVelocity: 0, contact: { x: 1.5, y: 0.5 } }, b: { mass: 1800, inertia: 3200, velocity: { x: -10, y: 1 }, angularVelocity: 0, contact: { x: -2, y: -0.4 } }, normalAngle: 0.2, restitution: 0.1, friction: 0.4 }).contact // "sticks"
 */
export const planarImpact = ({ a, b, normalAngle, restitution, friction }: PlanarImpactInput) => {
  requireRigidBody("a", a);
  requireRigidBody("b", b);
  requireFinite("planarImpact", "normalAngle", normalAngle, "rad");
  requireBetween("planarImpact", "restitution", restitution, 0, 1);
  requireNonNegative("planarImpact", "friction", friction);
  const n = { x: Math.cos(normalAngle), y: Math.sin(normalAngle) };
  const t = { x: -n.y, y: n.x };
  const atA = velocityAtContact(a);
  const atB = velocityAtContact(b);
  const closingSpeed = (atA.x - atB.x) * n.x + (atA.y - atB.y) * n.y;
  const slipBefore = (atA.x - atB.x) * t.x + (atA.y - atB.y) * t.y;
  requireThat(closingSpeed >= 0, "planarImpact", "closing speed along normalAngle", ">= 0 m/s (they move apart there: turn the normal round, or swap a and b)", closingSpeed);

  // How easily the two points of contact part, along and across the contact.
  const compliance = { normal: 1 / a.mass + 1 / b.mass, coupled: 0, tangential: 1 / a.mass + 1 / b.mass };
  for (const { inertia, contact } of [a, b]) {
    const leverOfNormal = contact.x * n.y - contact.y * n.x;
    const leverOfTangent = contact.x * t.y - contact.y * t.x;
    compliance.normal += leverOfNormal ** 2 / inertia;
    compliance.coupled += (leverOfNormal * leverOfTangent) / inertia;
    compliance.tangential += leverOfTangent ** 2 / inertia;
  }

  // The impulse that would end the slip, and the side that the slip, or its first tendency, calls for.
  const given = (1 + restitution) * closingSpeed;
  const determinant = compliance.normal * compliance.tangential - compliance.coupled ** 2;
  const sticking = { normal: (compliance.tangential * given - compliance.coupled * slipBefore) / determinant, tangential: (compliance.normal * slipBefore - compliance.coupled * given) / determinant };
  const side = slipBefore !== 0 ? Math.sign(slipBefore) : -Math.sign(compliance.coupled);
  // While it slides: how fast the slip ends and the closing speed falls, for each unit of normal impulse.
  const ending = side * compliance.coupled + friction * compliance.tangential;
  const closing = compliance.normal + side * friction * compliance.coupled;
  const untilEnded = ending > 0 ? Math.abs(slipBefore) / ending : Infinity;
  const holds = friction * compliance.tangential >= Math.abs(compliance.coupled);
  const marched: ContactOutcome = !(untilEnded * closing < given) ? "slides" : holds ? "sticks" : "turns";
  const afterwards = (given - closing * untilEnded) / (compliance.normal - side * friction * compliance.coupled);
  const wanted = { slides: (side * friction * given) / closing, sticks: sticking.tangential, turns: side * friction * (untilEnded - afterwards) }[marched];
  // Dissipated in all, by tangential impulse: kept + gain * tangential - stiff * tangential^2 / 2, and never negative between its two roots.
  const kept = ((1 - restitution ** 2) * closingSpeed ** 2) / (2 * compliance.normal);
  const gain = slipBefore - (compliance.coupled * closingSpeed) / compliance.normal;
  const stiff = determinant / compliance.normal;
  const reach = Math.sqrt(gain ** 2 + 2 * stiff * kept);
  const tangential = marched === "slides" ? wanted : Math.min((gain + reach) / stiff, Math.max((gain - reach) / stiff, wanted));
  const contact: ContactOutcome = tangential === wanted ? marched : "turns";
  const normal = (given - compliance.coupled * tangential) / compliance.normal;
  const impulseRatio = normal > 0 ? tangential / normal : 0;
  const slip = { before: slipBefore, after: contact === "sticks" ? 0 : slipBefore - compliance.coupled * normal - compliance.tangential * tangential };

  const impulse = { normal, tangential, x: normal * n.x + tangential * t.x, y: normal * n.y + tangential * t.y };
  const reaction = { x: -impulse.x, y: -impulse.y };
  const size = Math.hypot(impulse.x, impulse.y);
  const after = { a: pushed(a, reaction), b: pushed(b, impulse) };
  const along = 0.5 * tangential * (slip.before + slip.after);
  const dissipated = { normal: 0.5 * normal * closingSpeed * (1 - restitution) + Math.min(0, along), tangential: Math.max(0, along) };
  return {
    contact,
    closingSpeed,
    slip,
    impulse,
    impulseRatio,
    stickingRatio: sticking.normal > 0 ? sticking.tangential / sticking.normal : null,
    compliance,
    after,
    deltaV: { a: size / a.mass, b: size / b.mass },
    forceDirection: { a: Math.atan2(reaction.y, reaction.x), b: Math.atan2(impulse.y, impulse.x) },
    energy: {
      before: energyOf(a, a) + energyOf(b, b),
      after: energyOf(a, after.a) + energyOf(b, after.b),
      ...dissipated,
      dissipated: dissipated.normal + dissipated.tangential,
    },
  };
};
