/**
 * The demo company keeps the order of the trades in every area: it is what people will copy from.
 */
import { expect, it } from "vitest";
import { parseCompany } from "../../src/domain/company-file.js";
import type { Job, Task } from "../../src/domain/company-schema.js";
import { civilDate } from "../../src/domain/time.js";
import { tradeOrderRules } from "../../src/domain/trade-order-rules.js";
import { layDemo, readDemoTemplate } from "../../src/services/demo.js";

it.each(tradeOrderRules)("$id: $rule.en", async ({ before, after }) => {
  const parsed = parseCompany(layDemo(await readDemoTemplate(), civilDate("2026-12-07")));
  const jobs = parsed.ok ? parsed.value.jobs : [];
  expect(jobs).toHaveLength(7);
  expect(jobs.flatMap((job) => listWrongWayRound(job, before, after))).toEqual([]);
});

/** Pairs of tasks of one area in which the trade that must come first does not come first. */
function listWrongWayRound(job: Job, before: string, after: string): string[] {
  return job.tasks
    .filter((first) => first.trade === before && first.area !== null)
    .flatMap((first) =>
      job.tasks
        .filter((second) => second.trade === after && second.area === first.area)
        .filter((second) => !follows(job, second, first.id))
        .map((second) => `${job.id}: "${second.title}" does not wait for "${first.title}"`),
    );
}

function follows(job: Job, task: Task, id: string): boolean {
  return task.after.some((link) => {
    const earlier = job.tasks.find((candidate) => candidate.id === link.task);
    return link.task === id || (earlier !== undefined && follows(job, earlier, id));
  });
}
