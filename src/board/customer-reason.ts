/**
 * Why work at a house begins later, as it can be said to the customer there: by the kind of the reason alone, so that no
 * other house, customer or colleague is named.
 */
import type { Job } from "../domain/company-schema.js";
import type { Because, BecauseKind } from "../domain/plan-format.js";
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
/** What holds on any morning: nothing that a customer would take for a reason. */
const SAYS_NOTHING: ReadonlySet<BecauseKind> = new Set(["start-of-plan", "no-light", "crew-off", "access"]);

/** "because the crew is held up at another house"; empty where nothing can be said. */
export function customerReason(reading: Reading, job: Job, taskId: string): string {
  let first: string | undefined;
  let at: string | null = taskId;
  const seen = new Set<string>();
  while (at !== null && !seen.has(at)) {
    seen.add(at);
    const because: Because | undefined = reading.planned(job.id, at)?.because;
    if (because === undefined) break;
    const isElsewhere = because.by !== null && because.by.job !== job.id;
    const sentence = SENTENCES[because.kind]({ isElsewhere });
    if (!LEADS_ON.has(because.kind) || because.by === null || isElsewhere) {
      // The work before it, at this house, begins with the day: then that work is the reason.
      return first !== undefined && SAYS_NOTHING.has(because.kind) ? first : sentence;
    }
    first ??= sentence;
    at = because.by.task;
  }
  return first ?? "";
}
