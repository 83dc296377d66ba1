/** How plans are searched where nobody asks for anything else: the same company then gives the same plan everywhere. */

export const USUAL_SEED = 1;
/** Schedules built, the best of which is kept; small enough to plan again while a person waits. */
export const USUAL_ITERATIONS = 8;
