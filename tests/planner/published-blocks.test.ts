/** What a plan becomes when it is published, and that the plan stands when it is. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Company, PublishedBlock } from "../../src/domain/company-schema.js";
import type { Plan } from "../../src/domain/plan-format.js";
import { formatBroken } from "../../src/planner/check/broken-rule.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { planCompany } from "../../src/planner/plan.js";
import { toStillPlan } from "../../src/planner/still-plan.js";
import { findDifference } from "../../src/planner/ways-out/plan-difference.js";
import { readWork } from "../../src/planner/ways-out/planned-work.js";
import { toPublishedBlocks } from "../../src/planner/published-blocks.js";
import { decemberCompany, decemberPlan } from "../board/december-fixture.js";
import { anyCompany } from "../support/company-arbitrary.js";
import { propertySeed } from "../support/property-seed.js";

const publish = (company: Company, plan: Plan): Company => ({
  ...company,
  published: toPublishedBlocks(company, plan).map((block): PublishedBlock => ({ ...block, released: false })),
});

describe("a plan that is published", () => {
  it("gives all its blocks, with nothing that a default says", () => {
    const plan = decemberPlan();
    expect(toPublishedBlocks(decemberCompany(), plan)).toEqual(plan.blocks);
  });

  it("keeps what was published of the days just gone, cuts what was going on, and drops what is older", () => {
    const plan = {
      ...decemberPlan(),
      asOf: "2026-12-08T12:15:00-05:00",
      blocks: decemberPlan().blocks.filter(({ start }) => start >= "2026-12-08T12:30"),
    };
    const published = [
      ...["2026-11-20", "2026-12-01", "2026-12-07"].map((date) => ({
        crew: "alder",
        kind: "work" as const,
        job: "tern-14",
        task: "wrap",
        units: null,
        start: `${date}T08:00:00-05:00`,
        end: `${date}T10:00:00-05:00`,
        released: true,
      })),
      ...decemberPlan().blocks.map((block) => ({ ...block, released: false })),
    ];
    const kept = toPublishedBlocks({ ...decemberCompany(), published }, plan);
    expect(kept[0]).toEqual({
      crew: "alder",
      kind: "work",
      job: "tern-14",
      task: "wrap",
      units: null,
      start: "2026-12-01T08:00:00-05:00",
      end: "2026-12-01T10:00:00-05:00",
    });
    const alder = kept
      .filter(({ crew, start }) => crew === "alder" && start < "2026-12-08T12:15")
      .map(({ start, end }) => `${start.slice(5, 16)} ${end.slice(11, 16)}`);
    expect(alder.slice(-3)).toEqual(["12-08T07:26 07:46", "12-08T07:46 12:00", "12-08T12:00 12:15"]);
  });

  it("keeps work of this morning that goes on, and none that was not done and is on another day now", () => {
    const company = publish(decemberCompany(), decemberPlan());
    const asOf = "2026-12-08T09:00:00-05:00";
    const rest = decemberPlan().blocks.filter(({ start }) => start >= asOf);
    const isMorning = (block: { readonly kind: string; readonly start: string }): boolean =>
      block.kind === "work" && block.start < asOf;
    const morningOf = (blocks: Plan["blocks"]): readonly string[] =>
      toPublishedBlocks(company, { ...decemberPlan(), asOf, blocks })
        .filter(isMorning)
        .map(({ task }) => task ?? "");
    expect(morningOf(rest)).toEqual(["side", "open", "set"]);
    const withoutSiding = rest.map((block) =>
      block.task === "side"
        ? {
            ...block,
            start: block.start.replace("12-08T", "12-09T"),
            end: block.end.replace("12-08T", "12-09T"),
          }
        : block,
    );
    expect(morningOf(withoutSiding)).toEqual(["open", "set"]);
  });

  it("stays as it is for the company that has it published, keeps every rule there and changes nothing", () => {
    let withWork = 0;
    fc.assert(
      fc.property(anyCompany(), ({ company, asOf }) => {
        const plan = planCompany(company, { asOf, seed: 7, iterations: 1 });
        const after = publish(company, plan);
        const still = toStillPlan(plan, company.policy);
        expect(still.blocks).toEqual(plan.blocks);
        expect(checkPlan(after, still).map(formatBroken)).toEqual([]);
        const { moved, calls } = findDifference(
          after,
          readWork(after, after.published ?? []),
          readWork(after, still.blocks),
          asOf,
        );
        expect({ moved, calls }).toEqual({ moved: [], calls: [] });
        if (plan.blocks.length > 0) withWork += 1;
      }),
      { numRuns: 150, seed: propertySeed(20_261_207) },
    );
    expect(withWork).toBeGreaterThan(50);
  }, 120_000);
});
