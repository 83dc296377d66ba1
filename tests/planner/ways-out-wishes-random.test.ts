/** What holds for every wish in every company, whatever has happened to it. */
import { describe, expect, it } from "vitest";
import type { Company } from "../../src/domain/company-schema.js";
import type { Plan } from "../../src/domain/plan-format.js";
import { present } from "../../src/domain/result.js";
import { civilDateAt, type Minute } from "../../src/domain/time.js";
import { formatBroken } from "../../src/planner/check/broken-rule.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { listDatesAhead, planWish } from "../../src/planner/ways-out.js";
import type { Wish } from "../../src/planner/ways-out/wishes.js";
import { CASES, forEachCase, minute, MOST_SECONDS, nameOf } from "./ways-out-cases.js";

describe("a wish of any kind in any company", () => {
  it(
    "is kept by a plan that breaks no rule, or refused with a sentence",
    () => {
      let kept = 0;
      let refused = 0;
      forEachCase(({ company, options, choice }) => {
        const { standing, asOf } = options;
        const entries = standing.tasks.filter(({ crew }) => crew !== null);
        const entry = entries[choice.pick % Math.max(1, entries.length)];
        const crew = present(company.crews[choice.pick % company.crews.length], "a crew").id;
        const other = present(company.crews[(choice.pick + 1) % company.crews.length], "a crew").id;
        const date = present(listDatesAhead(company, asOf, 10)[choice.days - 1], "a date");
        const wishes: Wish[] = [
          ...(entry
            ? [
                { kind: "pin-crew" as const, job: entry.job, task: entry.task, crew },
                { kind: "pin-day" as const, job: entry.job, task: entry.task, date },
              ]
            : []),
          { kind: "swap-crews", crews: [crew, other], date },
          { kind: "keep-crew", crew },
        ];
        for (const wish of wishes) {
          const made = planWish(company, [wish], { ...options, iterations: 6 });
          if (!made.ok) {
            refused += 1;
            expect(made.error.wish).toBe(wish);
            expect(made.error.sentence).toMatch(/^[A-Z"].+\.$/);
            continue;
          }
          kept += 1;
          const { way, without, costs } = made.value;
          const plan = way.explain();
          expect(checkPlan(way.company, plan).map(formatBroken)).toEqual([]);
          expect(costs.cost).toBeCloseTo(way.figures.cost - without.figures.cost, 6);
          expect(costs.tasksMoved).toBe(way.figures.tasksMoved - without.figures.tasksMoved);
          expectKept(company, standing, plan, wish);
        }
      });
      expect(Math.min(kept, refused)).toBeGreaterThan(CASES / 3);
    },
    MOST_SECONDS,
  );
});

function expectKept(company: Company, standing: Plan, plan: Plan, wish: Wish): void {
  if (wish.kind === "pin-crew" || wish.kind === "pin-day") {
    const planned = present(
      plan.tasks.find(({ job, task }) => job === wish.job && task === wish.task),
      "the wished task",
    );
    if (wish.kind === "pin-crew") expect(planned.crew).toBe(wish.crew);
    else expect(planned.start.slice(0, 10)).toBe(wish.date);
    return;
  }
  const zone = company.company.timeZone;
  const worksOn = (entries: Plan, crew: string, date: string): string[] =>
    entries.blocks
      .filter((block) => block.kind === "work" && block.crew === crew)
      .filter((block) => civilDateAt(minute(company, block.start), zone) === date)
      .map(nameOf);
  if (wish.kind === "swap-crews") {
    const open = new Set(plan.tasks.map(nameOf));
    for (const [from, to] of [wish.crews, wish.crews.toReversed()] as [string, string][])
      for (const name of worksOn(standing, from, wish.date).filter((one) => open.has(one)))
        expect([name, plan.tasks.find((one) => nameOf(one) === name)?.crew]).toEqual([name, to]);
    return;
  }
  const own = plan.blocks.filter(({ kind, crew }) => kind === "work" && crew === wish.crew);
  const stayed = new Set(standing.tasks.filter(({ crew }) => crew === wish.crew).map(nameOf));
  const first = own.toSorted((a, b) => minute(company, a.start) - minute(company, b.start))[0];
  const begins = new Map<string, Minute>();
  for (const block of own) {
    const start = minute(company, block.start);
    begins.set(nameOf(block), Math.min(start, begins.get(nameOf(block)) ?? start));
  }
  const here = [...begins].filter(([name]) => stayed.has(name) && name.startsWith(`${first?.job ?? ""}/`));
  const last = Math.max(...here.map(([, start]) => start));
  for (const block of own)
    if (block.job !== first?.job) expect(minute(company, block.start)).toBeGreaterThanOrEqual(last);
}
