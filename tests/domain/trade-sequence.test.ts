/** What comes before what: the rules, and the ready-made sequences that must obey them. */
import { expect, test } from "vitest";
import { parseCompany } from "../../src/domain/company-file.js";
import { lagHoursOf } from "../../src/domain/cures.js";
import type { TradeSequence, WorkStep } from "../../src/domain/sequence-step.js";
import { toTasks } from "../../src/domain/sequence-tasks.js";
import { tradeCatalogue } from "../../src/domain/trade-catalogue.js";
import { tradeOrderRules } from "../../src/domain/trade-order-rules.js";
import { listAncestors, tradeSequences } from "../../src/domain/trade-sequence.js";
import { siteOrderRules, stepOrderRules } from "../../src/domain/trade-step-rules.js";
import { aCompany, aCrew, aJob } from "../support/company-builder.js";

const workSteps = (sequence: TradeSequence): readonly WorkStep[] =>
  sequence.steps.filter((step): step is WorkStep => step.kind === "work");

/** The order rules that a sequence breaks, as "rule: step before step". */
function listBroken(sequence: TradeSequence): readonly string[] {
  const steps = workSteps(sequence);
  return tradeOrderRules.flatMap((rule) =>
    steps
      .filter((step) => step.trade === rule.after)
      .flatMap((later) =>
        steps
          .filter((step) => step.trade === rule.before && !listAncestors(sequence, later.id).has(step.id))
          .map((earlier) => `${rule.id}: ${earlier.id} before ${later.id}`),
      ),
  );
}

for (const sequence of tradeSequences) {
  const { id } = sequence;
  test(`${id} obeys every order rule between trades`, () => {
    expect(listBroken(sequence)).toEqual([]);
  });

  test(`${id} names only steps of its own, each after steps that stand above it`, () => {
    sequence.steps.forEach((step, i) => {
      const above = new Set(sequence.steps.slice(0, i).map((earlier) => earlier.id));
      expect(
        step.after.every((link) => above.has(link.step)),
        step.id,
      ).toBe(true);
    });
    expect(new Set(sequence.steps.map((step) => step.id)).size).toBe(sequence.steps.length);
  });

  test(`${id} closes every wall that it opens, with no wait while it is open`, () => {
    const steps = workSteps(sequence);
    const closer = steps.find((step) => step.closes);
    const openers = steps.filter((step) => step.opens);
    expect(openers.length).toBeGreaterThan(0);
    for (const opener of openers) {
      const before = listAncestors(sequence, closer?.id ?? "");
      expect(before.has(opener.id)).toBe(true);
      const between = sequence.steps.filter(
        (step) => before.has(step.id) && listAncestors(sequence, step.id).has(opener.id),
      );
      expect(between.every((step) => step.kind === "work")).toBe(true);
    }
  });

  test(`${id} gives each step a range of hours that is a range`, () => {
    for (const step of workSteps(sequence)) {
      expect(step.lowHours, step.id).toBeGreaterThan(0);
      expect(step.highHours, step.id).toBeGreaterThanOrEqual(step.lowHours);
    }
  });

  for (const language of ["en", "es"] as const) {
    test(`${id} becomes tasks that a company file accepts (${language})`, () => {
      const amounts = Object.fromEntries(sequence.steps.map((step) => [step.id, 4]));
      const tasks = toTasks(sequence, { prefix: "front", area: "front", language, amounts, difficulty: 0.5 });
      const company = aCompany({
        trades: structuredClone([...tradeCatalogue]),
        crews: [aCrew({ trades: Object.fromEntries(tradeCatalogue.map((trade) => [trade.id, 1])) })],
        jobs: [aJob({ tasks: [...tasks] })],
      });
      const read = parseCompany(company);
      expect(read.ok ? [] : read.error).toEqual([]);
      expect(tasks).toHaveLength(sequence.steps.length);
    });
  }
}

test("the check of sequences notices siding that comes before its windows", () => {
  const [sequence] = tradeSequences;
  const wrong: TradeSequence = {
    ...sequence!,
    steps: sequence!.steps.map((step) => (step.id === "patch" ? { ...step, after: [] } : step)),
  };
  expect(listBroken(wrong)).toContain("C1: set before patch");
});

test("the order rules between trades have no circle", () => {
  const after = new Map<string, string[]>();
  for (const rule of tradeOrderRules) after.set(rule.before, [...(after.get(rule.before) ?? []), rule.after]);
  const reach = (from: string, seen: readonly string[]): void => {
    expect(seen).not.toContain(from);
    for (const next of after.get(from) ?? []) reach(next, [...seen, from]);
  };
  for (const trade of after.keys()) reach(trade, []);
});

test("no two order rules share an id", () => {
  const ids = [...tradeOrderRules, ...stepOrderRules, ...siteOrderRules].map((rule) => rule.id);
  expect(new Set(ids).size).toBe(ids.length);
});

test("rules without a published source say common practice", () => {
  const common = [...tradeOrderRules, ...stepOrderRules, ...siteOrderRules]
    .filter((rule) => rule.confidence === "common practice")
    .map((rule) => rule.rule.en);
  for (const words of [
    "Windows before siding",
    "membrane at the wall base, before the mount block",
    "Membrane at the wall base, and two barrier layers, before stone",
    "the bottom flange stays unsealed",
    "Cap flashing over a mount block before its channel",
    "Cleanup ends every day",
  ]) {
    expect(
      common.some((rule) => rule.includes(words)),
      words,
    ).toBe(true);
  }
});

test("a step that is left out hands on what came before it, with the longer lag", () => {
  const skirt = tradeSequences.find((sequence) => sequence.id === "stone-skirt")!;
  const tasks = toTasks(skirt, {
    prefix: "f",
    area: "front",
    language: "en",
    amounts: { wrap: 2, scratch: 100, side: 3 },
    difficulty: 0,
  });
  expect(tasks.find((task) => task.id === "f-side")?.after).toEqual([
    { task: "f-scratch", lagHours: lagHoursOf("scratch-coat") },
    { task: "f-wrap", lagHours: 0 },
  ]);
});

test("hours grow from the low to the high end with difficulty, in quarter hours", () => {
  const reside = tradeSequences.find((sequence) => sequence.id === "full-reside")!;
  const hours = (difficulty: number) =>
    toTasks(reside, { prefix: "f", area: "f", language: "en", amounts: { side: 10 }, difficulty }).find(
      (task) => task.id === "f-side",
    )?.laborHours;
  // 2.5 to 4.0 labor-hours for 100 sq ft of vinyl: published labor table.
  expect([hours(0), hours(0.5), hours(1)]).toEqual([25, 32.5, 40]);
});
