/**
 * The seeds of the property tests: the same on every run, unless DAYLAP_SEED names another (`npm run test:wander`
 * draws one and prints it). A property without a seed of its own takes the common one.
 */
import { configureGlobal, readConfigureGlobal } from "fast-check";

const WANDERING = process.env["DAYLAP_SEED"];

/** `usual`, or the wandering seed where there is one: `fc.assert(property, { seed: propertySeed(7) })`. */
export function propertySeed(usual: number): number {
  return WANDERING === undefined ? usual : Number(WANDERING);
}

configureGlobal({ ...readConfigureGlobal(), seed: propertySeed(20_261_207) });
