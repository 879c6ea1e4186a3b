/** A wish that cannot be met, in words with the way out. */
export class Refusal extends Error {}
