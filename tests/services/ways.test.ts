/**
 * Ways out at the desk: compared without writing anything, and taken together with the slip in one step, exactly as they
 * were shown.
 */
import { beforeAll, describe, expect, it } from "vitest";
import type { CompanyInput } from "../../src/domain/company-schema.js";
import { ok, present } from "../../src/domain/result.js";
import { civilDate, parseInstant } from "../../src/domain/time.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import type { Permissions } from "../../src/planner/ways-out/way-out.js";
import type { OpenDesk } from "../../src/services/company-desk.js";
import { layDemo, readDemoTemplate } from "../../src/services/demo.js";
import { replayPlan } from "../../src/services/replay.js";
import type { Slip } from "../../src/services/slip.js";
import type { TakeWay, WaysAsk, WaysShown } from "../../src/services/ways.js";
import { CallStore } from "../../src/store/call-store.js";
import { listChanges } from "../../src/store/record-store.js";
import { aCompany, aCrew, aJob, aTask } from "../support/company-builder.js";
import { CASEY, ROBIN, useDesks } from "../support/desk.js";

const AFTERNOON = present(parseInstant("2026-12-08T14:00", "America/New_York"), "the afternoon");
const desks = useDesks({ clock: () => AFTERNOON, now: () => new Date("2026-12-08T19:00:00Z") });

/** Alder sides Harbor Road and then Spruce Street, which is promised; Cedar has little to do. */
const TWO_CREWS: CompanyInput = aCompany({
  crews: [
    aCrew({ trades: { siding: 1 } }),
    aCrew({ id: "cedar", name: "Cedar", lead: "Ines", trades: { siding: 1 } }),
  ],
  jobs: [
    aJob({
      id: "harbor-12",
      name: "12 Harbor Road",
      promised: "2026-12-11",
      tasks: [
        aTask({ id: "t1", title: "Side the front", laborHours: 30, status: "under-way", doneBy: "alder" }),
        aTask({ id: "t2", title: "Side the back", laborHours: 21, after: [{ task: "t1" }] }),
      ],
    }),
    aJob({
      id: "spruce-14",
      name: "14 Spruce Street",
      promised: "2026-12-14",
      tasks: [aTask({ id: "t1", title: "Side the left", laborHours: 21, crew: null })],
    }),
  ],
});
const ALL: Permissions = {
  resequence: true,
  lend: true,
  stretch: ["2026-12-09", "2026-12-10", "2026-12-11"].map(civilDate),
  saturday: [civilDate("2026-12-12")],
};
const MORE: Slip = {
  kind: "hours-added",
  job: "harbor-12",
  task: "t1",
  how: { kind: "more", hours: 40 },
  begun: null,
};
const ASK: WaysAsk = { slip: MORE, permissions: ALL, wish: null };

async function openPublished(company: unknown = TWO_CREWS): Promise<OpenDesk> {
  const desk = await desks.open(company);
  const published = await desk.publish({ planId: desk.current().planId }, ROBIN);
  if (!published.ok) throw new Error(JSON.stringify(published.error));
  return desk;
}
async function compare(desk: OpenDesk, ask: WaysAsk = ASK): Promise<WaysShown> {
  const shown = await desk.compareWays(ask);
  if (!shown.ok) throw new Error(JSON.stringify(shown.error));
  return shown.value;
}
function orderOf(shown: WaysShown, key: string, ask: WaysAsk = ASK): TakeWay {
  const { digest } = present(
    shown.ways.find((way) => way.key === key),
    `the way ${key}`,
  );
  const { slip, permissions, wish } = ask;
  return { slip, permissions, wish, basis: shown.basis, key, digest, publish: true, why: "said Noor" };
}
const listCalls = async () => new CallStore(await desks.database()).list({ limit: 100 });
const lastChange = async () =>
  present((await listChanges(await desks.database(), { limit: 1 }))[0], "the last change");
/** Everything that a way could write. */
const all = async (desk: OpenDesk) => ({
  source: desk.current().source,
  version: desk.current().version,
  planId: desk.current().planId,
  calls: await listCalls(),
});

describe("ways out that are compared", () => {
  it("are told with the slip in one sentence, the order held first, and nothing is written", async () => {
    const desk = await openPublished();
    const before = await all(desk);
    const shown = await compare(desk);
    expect(shown.slipSentence).toBe(
      "Side the front at 12 Harbor Road: 40 labor-hours more, 70 labor-hours left.",
    );
    expect(shown.ways[0]?.key).toBe("hold");
    expect(shown.ways.length).toBeGreaterThan(1);
    expect(await all(desk)).toEqual(before);
  });

  it("are the same again of the same things, and one that is opened brings its plan, which keeps every rule", async () => {
    const desk = await openPublished();
    const first = await compare(desk);
    const keys = first.ways.map(({ key }) => key);
    for (const open of keys) {
      const { ways, opened } = await compare(desk, { ...ASK, open });
      expect(ways).toEqual(first.ways);
      const { way, company, plan } = present(opened, `the way ${open}`);
      expect(way.key).toBe(open);
      expect(checkPlan(company, plan)).toEqual([]);
      expect(plan.cost.total).toBeCloseTo(way.figures.cost);
    }
    expect((await compare(desk, { ...ASK, open: "by-boat" })).opened).toBeNull();
  });

  it.each<[string, Slip, string]>([
    [
      "a task that is finished",
      { ...MORE, job: "old-1", task: "t1" },
      "is finished, so it cannot need more hours",
    ],
    ["negative hours", { ...MORE, how: { kind: "more", hours: -3 } }, "such as 6 or 4.5"],
    ["absurd hours", { ...MORE, how: { kind: "more", hours: 9_999 } }, "Look at the number."],
    ["a task that there is not", { ...MORE, task: "t9" }, 'There is no task "t9"'],
    [
      "a crew that there is not",
      { kind: "day-off-added", crew: "larch", input: { from: "2026-12-09", to: "2026-12-09", why: "" } },
      'There is no crew "larch"',
    ],
    [
      "days that have gone by",
      { kind: "day-off-added", crew: "alder", input: { from: "2026-12-01", to: "2026-12-02", why: "" } },
      "has gone by",
    ],
    ["a pause into the past", { kind: "job-paused", job: "spruce-14", until: "2026-12-01" }, "has gone by"],
  ])("of %s are refused with a sentence", async (_what, slip, sentence) => {
    const desk = await openPublished({
      ...TWO_CREWS,
      jobs: [
        ...(TWO_CREWS.jobs ?? []),
        aJob({ id: "old-1", tasks: [aTask({ id: "t1", status: "done", finishedAt: "2026-12-01" })] }),
      ],
    });
    const shown = await desk.compareWays({ ...ASK, slip });
    expect(shown.ok).toBe(false);
    expect(JSON.stringify(shown)).toContain(sentence.replaceAll('"', String.raw`\"`));
  });

  it("need no slip: then they lead out of what stands", async () => {
    const desk = await openPublished();
    const shown = await compare(desk, { ...ASK, slip: null });
    expect(shown.slipSentence).toBeNull();
    expect(shown.ways[0]).toMatchObject({ key: "hold", figures: { tasksMoved: 0 } });
  });
});

describe("a way out that is taken", () => {
  it("writes slip, permissions, promise, calls and record in one step, and stands exactly as it was shown", async () => {
    const desk = await openPublished();
    const shown = await compare(desk);
    for (const { key } of shown.ways.toReversed().slice(0, 2)) {
      const { opened } = await compare(desk, { ...ASK, open: key });
      const { way, plan: seen } = present(opened, "the way");
      const { version } = desk.current();
      expect(await desk.takeWay(orderOf(shown, key), ROBIN)).toEqual(ok(undefined));
      const { company, plan, planId, publication, version: after } = desk.current();
      expect(after).toBe(version + 1);
      expect(plan.blocks).toEqual(seen.blocks);
      expect(checkPlan(company, plan)).toEqual([]);
      expect(plan.cost.changes).toBe(0);
      expect(company.jobs[0]?.tasks[0]?.leftHours).toBe(70);
      for (const edit of way.edits) {
        const crew = company.crews.find(({ id }) => "crew" in edit && id === edit.crew);
        if (edit.kind === "stretch-day") expect(crew?.stretch).toContain(edit.date);
        if (edit.kind === "extra-day") expect(crew?.extra.map(({ date }) => date)).toContain(edit.date);
      }
      expect(publication).toMatchObject({ version: after, kind: "way-taken", isAsMade: true });
      expect(publication?.plan?.blocks).toEqual(plan.blocks);
      const change = await lastChange();
      expect(change).toMatchObject({
        version: after,
        kind: "way-taken",
        personName: "Robin",
        why: "said Noor",
      });
      expect(change.sentence).toMatch(
        /^Side the front at 12 Harbor Road: 40 labor-hours more, 70 labor-hours left\. Way out: .+\. Plan published .+\.$/,
      );
      expect((await listCalls()).filter((call) => call.version === after)).toHaveLength(way.figures.calls);
      expect(await replayPlan(await desks.database(), planId)).toMatchObject({ value: { isEqual: true } });
      expect(await desk.undo(after, CASEY, "")).toEqual(ok(undefined));
      // The next one starts from here again.
      const again = await compare(desk);
      Object.assign(shown, again);
    }
  });

  it("is taken back as one: slip, permissions, promise and calls", async () => {
    const desk = await openPublished();
    const before = desk.current();
    const shown = await compare(desk);
    const last = present(shown.ways.at(-1), "a way");
    expect(await desk.takeWay(orderOf(shown, last.key), ROBIN)).toEqual(ok(undefined));
    expect(desk.current().source).not.toEqual(before.source);
    expect(await desk.undo(desk.current().version, CASEY, "wrong house")).toEqual(ok(undefined));
    const { source, plan, publication, planId } = desk.current();
    expect(source).toEqual(before.source);
    expect(plan.blocks).toEqual(before.plan.blocks);
    expect(publication?.version).toBe(before.publication?.version);
    expect((await listCalls()).filter(({ withdrawnBy }) => withdrawnBy === null)).toEqual([]);
    expect(await replayPlan(await desks.database(), planId)).toMatchObject({ ok: true });
  });

  it("can be the slip alone: every crew keeps its order, and what is published stays", async () => {
    const desk = await openPublished();
    const { company: before } = desk.current();
    const shown = await compare(desk, { ...ASK, open: "hold" });
    const order = { ...orderOf(shown, "hold"), publish: false };
    expect(await desk.takeWay(order, ROBIN)).toEqual(ok(undefined));
    const { company, plan, planId } = desk.current();
    expect(company.published).toEqual(before.published);
    expect(plan.blocks).toEqual(shown.opened?.plan.blocks);
    expect(checkPlan(company, plan)).toEqual([]);
    expect(await listCalls()).toEqual([]);
    expect(await lastChange()).toMatchObject({ kind: "slip-recorded" });
    expect((await lastChange()).sentence).toMatch(/Way out: Hold the order\. Nothing published\.$/);
    expect(await replayPlan(await desks.database(), planId)).toMatchObject({ value: { isEqual: true } });
  });

  it("stands for whoever opens the company next", async () => {
    const desk = await openPublished();
    const shown = await compare(desk);
    await desk.takeWay(orderOf(shown, "hold"), ROBIN);
    const other = await desks.open();
    expect(other.current().plan).toEqual(desk.current().plan);
  });
});

describe("a wish by hand", () => {
  const TO_CEDAR = { kind: "pin-crew", job: "harbor-12", task: "t2", crew: "cedar" } as const;

  it("is kept by a way of its own, beside the others, with what it costs", async () => {
    const desk = await openPublished();
    const ask: WaysAsk = { ...ASK, wish: TO_CEDAR, open: "by-hand" };
    const shown = await compare(desk, ask);
    expect(shown.ways.slice(0, 2).map(({ key }) => key)).toEqual(["by-hand", "hold"]);
    expect(shown.wish).toMatchObject({ kind: "kept" });
    const { company, plan } = present(shown.opened, "the way by hand");
    expect(plan.tasks.find(({ job, task }) => job === "harbor-12" && task === "t2")?.crew).toBe("cedar");
    expect(checkPlan(company, plan)).toEqual([]);
  });

  it("is taken as it was shown, written into the company, and told on record", async () => {
    const desk = await openPublished();
    for (const slip of [MORE, null]) {
      const ask: WaysAsk = { ...ASK, slip, wish: TO_CEDAR, open: "by-hand" };
      const shown = await compare(desk, ask);
      expect(await desk.takeWay(orderOf(shown, "by-hand", ask), ROBIN)).toEqual(ok(undefined));
      const { company, plan, planId, version } = desk.current();
      expect(plan.blocks).toEqual(shown.opened?.plan.blocks);
      expect(checkPlan(company, plan)).toEqual([]);
      expect(company.jobs[0]?.tasks[1]?.crew).toBe("cedar");
      expect((await lastChange()).sentence).toContain(
        "Way out: By hand (Side the back at 12 Harbor Road by Cedar).",
      );
      expect(await replayPlan(await desks.database(), planId)).toMatchObject({ value: { isEqual: true } });
      await desk.undo(version, ROBIN, "");
    }
  });

  it("that cannot be kept says what forbids it, and the other ways are there", async () => {
    const desk = await openPublished();
    const shown = await compare(desk, { ...ASK, wish: { ...TO_CEDAR, task: "t1" } });
    expect(shown.wish).toMatchObject({ kind: "refused" });
    expect(shown.ways[0]?.key).toBe("hold");
  });
});

describe("a way out that is not taken", () => {
  it("after somebody else's change: that is told, and nothing is done", async () => {
    const desk = await openPublished();
    const shown = await compare(desk);
    const made = await desk.make({ kind: "promise-moved", job: "spruce-14", promised: "2026-12-11" }, CASEY);
    expect(made.ok).toBe(true);
    const before = await all(desk);
    expect(await desk.takeWay(orderOf(shown, "hold"), ROBIN)).toMatchObject({
      error: { kind: "stale", since: [{ personName: "Casey" }] },
    });
    expect(await all(desk)).toEqual(before);
  });

  it.each<[string, Partial<TakeWay>]>([
    ["that is another one than was shown", { digest: "another" }],
    ["that there is not", { key: "by-boat" }],
  ])("%s is compared again", async (_what, wrong) => {
    const desk = await openPublished();
    const before = await all(desk);
    const shown = await compare(desk);
    expect(await desk.takeWay({ ...orderOf(shown, "hold"), ...wrong }, ROBIN)).toMatchObject({
      error: { refusal: { kind: "compare-again" } },
    });
    expect(await all(desk)).toEqual(before);
  });

  it.each([121, 24 * 60, -1])(
    "%s minutes after it was compared: too much time has gone by",
    async (minutes) => {
      const desk = await openPublished();
      const shown = await compare(desk);
      const basis = { ...shown.basis, asOf: shown.basis.asOf - minutes };
      expect(await desk.takeWay({ ...orderOf(shown, "hold"), basis }, ROBIN)).toMatchObject({
        error: { refusal: { kind: "compare-again" } },
      });
    },
  );

  it("of a plan that was never there", async () => {
    const desk = await openPublished();
    const shown = await compare(desk);
    const basis = { ...shown.basis, planId: 999 };
    expect(await desk.takeWay({ ...orderOf(shown, "hold"), basis }, ROBIN)).toMatchObject({
      error: { refusal: { kind: "compare-again" } },
    });
  });

  it("breaks a rule: the rule is named, and nothing is written", async () => {
    const desk = await desks.open(TWO_CREWS, {
      checkPlan: () => Promise.resolve(["Rule 2: Alder is at two houses."]),
    });
    const before = await all(desk);
    const shown = await compare(desk);
    expect(await desk.takeWay(orderOf(shown, "hold"), ROBIN)).toMatchObject({
      error: { refusal: { kind: "plan-broken" } },
    });
    expect(await all(desk)).toEqual(before);
  });

  it("has a reason that cannot be kept", async () => {
    const desk = await openPublished();
    const shown = await compare(desk);
    const order = { ...orderOf(shown, "hold"), why: "x".repeat(2_001) };
    expect(await desk.takeWay(order, ROBIN)).toMatchObject({ error: { faults: [{ path: "reason" }] } });
  });
});

describe("for the demo company", () => {
  let demo: unknown;
  beforeAll(async () => {
    demo = layDemo(await readDemoTemplate(), civilDate("2026-12-08"));
  });

  it("every way out of a crew that is out keeps every rule and is taken as it was shown", async () => {
    const desk = await openPublished(demo);
    const input = { from: "2026-12-09", to: "2026-12-10", why: "out" };
    const ask: WaysAsk = { ...ASK, slip: { kind: "day-off-added", crew: "dune", input } };
    const { ways } = await compare(desk, ask);
    expect(ways.length).toBeGreaterThan(1);
    for (const { key } of ways) {
      const shown = await compare(desk, { ...ask, open: key });
      expect(await desk.takeWay(orderOf(shown, key, ask), ROBIN)).toEqual(ok(undefined));
      const { company, plan, version } = desk.current();
      expect(plan.blocks).toEqual(shown.opened?.plan.blocks);
      expect(checkPlan(company, plan)).toEqual([]);
      await desk.undo(version, ROBIN, "");
    }
  });
});
