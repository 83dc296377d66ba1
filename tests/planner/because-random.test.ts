/**
 * `because`, verified on random companies. For each task whose reason the company file can lift alone (access, hold,
 * after-task, wait, curing, not-before, delivery, equipment, published), that one thing is lifted in the file, the file
 * is compiled again, and the task is placed again behind exactly the same earlier work, with the same crews:
 *
 * - it must start earlier with its reason lifted (or, where the reason names others that bind together with it, with
 *   all of these lifted at once, as far as a file can lift them);
 * - a task outside a chain whose reason names no others must start no earlier with any other one lifted.
 *
 * Left out, and counted: edges inside a chain, without which it would be another chain; reasons that bind together
 * with one that no file can lift alone (the crew's other work, its shift, the light, the closed wall); and, as another
 * reason, a hold where the crew has room for rain work, for that room goes with the hold.
 */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Company } from "../../src/domain/company-schema.js";
import type { BecauseKind } from "../../src/domain/plan-format.js";
import { present } from "../../src/domain/result.js";
import type { Minute } from "../../src/domain/time.js";
import { findBindings, type Binding } from "../../src/planner/because.js";
import { compile, type Compiled } from "../../src/planner/compile/compile.js";
import { construct, decode, type Choice } from "../../src/planner/core/construct.js";
import { Placer } from "../../src/planner/core/placer.js";
import { LIFT } from "../../src/planner/core/problem.js";
import type { Timeline } from "../../src/planner/core/timeline.js";
import { anyCompany } from "../support/company-arbitrary.js";
import { propertySeed } from "../support/property-seed.js";
import { LIFTS } from "./lifted.js";

const COMPANIES = 300;
const DAYS = 400;
const RULE = { bucketMinutes: 60, by: "slack", crew: "soonest", compared: Infinity } as const;

interface Counts {
  verified: Map<BecauseKind, number>;
  innerEdges: number;
  beyondTheFile: number;
  rainWork: number;
  readonly faults: string[];
}

const nameOf = (compiled: Compiled, index: number): string => {
  const { job, task } = present(compiled.open[index], "an open task");
  return `${job.id}/${task.id}`;
};
const shapeOf = (compiled: Compiled): string =>
  JSON.stringify(compiled.problem.activities.map(({ tasks }) => tasks.map((task) => nameOf(compiled, task))));

/** Where a task would start behind the same earlier work if the file were changed; undefined where its chain is another. */
function startIn(
  changed: Company,
  asOf: Minute,
  compiled: Compiled,
  timeline: Timeline,
  choice: Choice,
  place: number,
): number | undefined {
  const again = compile(changed, asOf, DAYS);
  if (shapeOf(again) !== shapeOf(compiled)) return undefined;
  const crews = compiled.problem.activities[choice.activity]?.staffings[choice.staffing];
  const staffings = present(again.problem.activities[choice.activity], "the same activity").staffings;
  const staffing = staffings.findIndex((own) => crews && own.join() === crews.join());
  const placer = new Placer(again.problem, timeline);
  return placer.attempt(choice.activity, Math.max(0, staffing), LIFT.nothing)?.starts[place] ?? Infinity;
}

function verifyCompany(company: Company, asOf: Minute, number: number, counts: Counts): void {
  const compiled = compile(company, asOf, DAYS);
  const schedule = construct(compiled.problem, RULE);
  const bindings = findBindings(schedule.timeline, schedule.choices);
  decode(compiled.problem, schedule.choices, ({ timeline }, choice) => {
    const activity = present(compiled.problem.activities[choice.activity], "a chosen activity");
    activity.tasks.forEach((index, place) => {
      const binding = bindings[index];
      if (!binding) return;
      const { job, task } = present(compiled.open[index], "an open task");
      // When it is placed; a trade with a longer setup that joins the visit later may push it back (reading 7).
      const placed = new Placer(compiled.problem, timeline).attempt(
        choice.activity,
        choice.staffing,
        LIFT.nothing,
      );
      const start = present(placed?.starts[place], "a start");
      expect(start).toBeLessThanOrEqual(present(schedule.timeline.startOf[index], "the start in the plan"));
      const startWithout = (kinds: readonly BecauseKind[]) => {
        let changed = company;
        for (const kind of kinds) {
          const known = present(
            changed.jobs.find(({ id }) => id === job.id),
            "the job",
          );
          const now = present(
            known.tasks.find(({ id }) => id === task.id),
            "the task",
          );
          changed = present(LIFTS.get(kind), "a lift")(changed, known, now);
        }
        return startIn(changed, asOf, compiled, timeline, choice, place);
      };
      const say = (fault: string) =>
        counts.faults.push(`company ${number}, ${job.id}/${task.id}, ${sayBinding(binding)}: ${fault}`);
      verifyReason(binding, start, startWithout, counts, say);
      if (activity.chain !== null) return;
      const crew = schedule.timeline.crewOf[index] ?? -1;
      const hasRoom = (timeline.gaps[crew]?.length ?? 0) > 0;
      if (hasRoom) counts.rainWork += 1;
      // Without its edge a lag is gone too: what is lifted with it cannot be kept apart from it.
      const edges: readonly BecauseKind[] = binding.kind === "curing" ? ["after-task", "wait"] : [];
      const others = [...LIFTS.keys()].filter(
        (kind) => (kind !== "hold" || !hasRoom) && !edges.includes(kind),
      );
      verifyNoOther(binding, start, others, startWithout, say);
    });
  });
}

const sayBinding = ({ kind, also }: Binding): string => [kind, ...also].join(" with ");

type StartWithout = (kinds: readonly BecauseKind[]) => number | undefined;

function verifyReason(
  { kind, also }: Binding,
  start: number,
  startWithout: StartWithout,
  counts: Counts,
  say: (fault: string) => void,
): void {
  if (!LIFTS.has(kind)) return;
  const alone = startWithout([kind]);
  if (alone === undefined) {
    counts.innerEdges += 1;
    return;
  }
  if (alone >= start) {
    if (also.length === 0) say("lifting it does not let the task start earlier");
    else if (!also.every((other) => LIFTS.has(other))) {
      counts.beyondTheFile += 1;
      return;
    } else {
      const together = startWithout([kind, ...also]);
      if (together !== undefined && together >= start) say("lifting all of it does not help");
    }
  }
  counts.verified.set(kind, (counts.verified.get(kind) ?? 0) + 1);
}

function verifyNoOther(
  { kind, also }: Binding,
  start: number,
  others: readonly BecauseKind[],
  startWithout: StartWithout,
  say: (fault: string) => void,
): void {
  if (also.length > 0) return;
  for (const other of others) {
    if (other === kind) continue;
    const without = startWithout([other]);
    if (without !== undefined && without < start) say(`lifting ${other} lets it start earlier too`);
  }
}

describe("the reasons in the plans of random companies", () => {
  it("are what holds each task back: lifted, it starts earlier; another one lifted, it does not", () => {
    const counts: Counts = { verified: new Map(), innerEdges: 0, beyondTheFile: 0, rainWork: 0, faults: [] };
    fc.sample(anyCompany(), { numRuns: COMPANIES, seed: propertySeed(20_270_317) }).forEach(
      ({ company, asOf }, number) => verifyCompany(company, asOf, number, counts),
    );
    expect(counts.faults).toEqual([]);
    // The sample speaks of every kind that a file can lift, and of few that it cannot.
    expect([...counts.verified.keys()].sort()).toEqual([...LIFTS.keys()].sort());
    const verified = [...counts.verified.values()].reduce((sum, count) => sum + count, 0);
    expect(counts.beyondTheFile).toBeLessThan(verified / 4);
  });
});
