/** How plans are searched where nobody asks for anything else: the same company then gives the same plan everywhere. */

export const USUAL_SEED = 1;
/** Improvement steps after the first complete plan. */
export const USUAL_ITERATIONS = 2_000;
