/**
 * Why an activity that somebody may work fits nowhere: each sentence names the rule, so that a person can change something.
 */
import { LIFT } from "./core/problem.js";
import { Placer } from "./core/placer.js";
import type { Timeline } from "./core/timeline.js";
import { whyFollows } from "./compile/activities.js";
import type { Compiled } from "./compile/compile.js";

const LIFTED_SENTENCES: readonly (readonly [number, string])[] = [
  [LIFT.hold, "A hold never lets it be worked. Lift or shorten the hold."],
  [LIFT.equipment, "Its equipment is needed in greater number at one time than there is."],
  [LIFT.access, "The house's access hours never leave a crew enough time. Widen the access hours."],
  [LIFT.noLight, "No day has enough light within the crews' shifts and the house's access hours."],
  [
    LIFT.crewOff,
    "No shift of a crew that may work it is long enough for setup, work, cleanup and the way. Give a crew more hours.",
  ],
];

/** A sentence for each activity that could not be placed, by activity. */
export function explainUnplaced(
  compiled: Compiled,
  timeline: Timeline,
  unplaced: readonly number[],
): ReadonlyMap<number, string> {
  const { problem, open } = compiled;
  const placer = new Placer(problem, timeline);
  const missing = new Set(unplaced);
  const why = new Map<number, string>();
  for (const index of unplaced) {
    const activity = problem.activities[index];
    if (!activity) continue;
    const before = activity.after.find((earlier) => missing.has(earlier));
    const beforeTask = open[problem.activities[before ?? -1]?.tasks.at(-1) ?? -1]?.task;
    if (beforeTask) {
      why.set(index, whyFollows(beforeTask));
      continue;
    }
    const fits = (lifted: number): boolean =>
      activity.staffings.some(
        (_, staffing) => placer.attempt(index, staffing, lifted | LIFT.crewBusy) !== null,
      );
    const named = LIFTED_SENTENCES.find(([lifted]) => fits(lifted));
    if (activity.chain && (named === undefined || fits(LIFT.closeByDark))) {
      why.set(
        index,
        "One unit of this chain does not fit into any day's light: opened and closed with setup, cleanup and the way. Make the units smaller or send a larger crew.",
      );
    } else {
      why.set(
        index,
        named?.[1] ?? "No window of any crew that may work it is long enough within the next three years.",
      );
    }
  }
  return why;
}
