/** How plans are searched where nobody asks for anything else: the same company then gives the same plan everywhere. */
import type { PlanningBudget } from "./planning-messages.js";

export const USUAL_SEED = 1;
/** Schedules built, the best of which is kept, where nobody says how many. */
export const USUAL_ITERATIONS = 400;
/** The same while a person waits for a page; what is better comes behind it. */
export const QUICK_ITERATIONS = 8;

/** How long a board goes on improving its plan after a change, while people already look at it. */
export const IMPROVING: PlanningBudget = { milliseconds: 3_000 };
/** The same where the clock stands still: counted, so that the same file always comes to the same pages. */
export const IMPROVING_BY_COUNT: PlanningBudget = { iterations: 400 };
