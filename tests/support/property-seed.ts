/**
 * The seed of the property tests: the same on every run, unless DAYLAP_SEED names another (`npm run test:wander`).
 * A property that passes a seed of its own keeps it; take PROPERTY_SEED where a seed has to be named.
 */
import { configureGlobal, readConfigureGlobal } from "fast-check";

export const PROPERTY_SEED = Number(process.env["DAYLAP_SEED"] ?? 20_261_207);

configureGlobal({ ...readConfigureGlobal(), seed: PROPERTY_SEED });
