// Contents page of the kernels. Read top to bottom; every name is documented where it is defined.

// Units and constants
export * from "./units.ts";
export * from "./constants.ts";
