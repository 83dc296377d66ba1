/**
 * Why work at a house begins later, as it can be said to the customer there: by the kind of the reason alone, so that no
 * other house, customer or colleague is named.
 */
import type { Job, Task } from "../domain/company-schema.js";
import type { Because, BecauseKind } from "../domain/plan-format.js";
import type { CivilDate } from "../domain/time.js";
import { findDayReason, isMorningReason, type DayReason } from "./day-reason.js";
import type { Reading } from "./reading.js";

interface ReasonFacts {
  /** Whether what is waited for is at another house. */
  readonly isElsewhere: boolean;
}

const SENTENCES = {
  "start-of-plan": () => "",
  "crew-busy": ({ isElsewhere }) =>
    isElsewhere
      ? "because the crew is held up at another house"
      : "because other work at your house comes first",
  "crew-off": () => "because the crew is not at work before then",
  access: () => "because of the hours at which we may come to your house",
  "no-light": () => "because there is not enough daylight before then",
  hold: () => "because the work is on hold until then",
  "after-task": () => "because other work at your house has to be finished first",
  curing: () => "because what comes before it has to dry first",
  "not-before": () => "because it is not to begin before then",
  delivery: () => "because we are waiting for a delivery",
  wait: () => "because something else has to be settled first, such as an inspection",
  "close-by-dark": () => "because your wall has to be closed again before dark",
  equipment: ({ isElsewhere }) =>
    isElsewhere ? "because the equipment is needed at another house" : "because the equipment is in use",
  published: () => "because that day had been set for it",
} as const satisfies Record<BecauseKind, (facts: ReasonFacts) => string>;

/** What only says that something else comes first, so that the reason lies behind it. */
const LEADS_ON: ReadonlySet<BecauseKind> = new Set(["after-task", "curing"]);

const OF_THE_DAY = {
  "crew-off": "because the crew is not at work that day",
  hold: "because the work is on hold that day",
  "comes-after": "because other work at your house has to be finished first",
  elsewhere: "because the crew is held up at another house",
} as const satisfies Record<DayReason["kind"], string>;

/**
 * "because the crew is held up at another house"; empty where nothing can be said. `before`: where the task was
 * published.
 */
export function customerReason(
  reading: Reading,
  job: Job,
  task: Task,
  before: { readonly crews: readonly string[]; readonly dates: readonly CivilDate[] },
): string {
  let at: Task | undefined = task;
  const seen = new Set<Task>();
  const [crewId = ""] = before.crews;
  const [date] = before.dates;
  while (at !== undefined && !seen.has(at)) {
    seen.add(at);
    const because: Because | undefined = reading.planned(job.id, at.id)?.because;
    if (because === undefined) return "";
    const { by, kind } = because;
    const isElsewhere = by !== null && by.job !== job.id;
    const day = date === undefined ? undefined : findDayReason(reading, job, at, crewId, date);
    if (at === task && day !== undefined && isMorningReason(kind)) return OF_THE_DAY[day.kind];
    // The work before it, at this house, begins with its day: then that work is the reason.
    if (at !== task && isMorningReason(kind)) return SENTENCES["after-task"]();
    if (!LEADS_ON.has(kind) || by === null || isElsewhere) return SENTENCES[kind]({ isElsewhere });
    at = reading.task(by.job, by.task);
  }
  return "";
}
