/** Publishing at the desk: the plan that stands becomes the promise, with its calls, in one step, and can be taken back. */
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../src/domain/company-schema.js";
import { present } from "../../src/domain/result.js";
import { parseInstant } from "../../src/domain/time.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import type { OpenDesk } from "../../src/services/company-desk.js";
import { replayPlan } from "../../src/services/replay.js";
import { CallStore } from "../../src/store/call-store.js";
import { listChanges } from "../../src/store/record-store.js";
import { aCompany, aCrew, aJob, aTask } from "../support/company-builder.js";
import { CASEY, ROBIN, useDesks } from "../support/desk.js";

const EVENING = present(parseInstant("2026-12-07T18:00", "America/New_York"), "the evening");
const desks = useDesks({ clock: () => EVENING, now: () => new Date("2026-12-07T23:00:00Z") });

/** Alder sides two houses one after the other; Birch, a subcontractor, sets stone at the second after that. */
const TWO_HOUSES: CompanyInput = aCompany({
  crews: [
    aCrew({ trades: { siding: 1 } }),
    aCrew({ id: "birch", name: "Birch", lead: "Mateo", trades: { stone: 1 }, kind: "sub" }),
  ],
  jobs: [
    aJob({ id: "harbor-12", name: "12 Harbor Road", tasks: [aTask({ id: "t1", laborHours: 21 })] }),
    aJob({
      id: "spruce-14",
      tasks: [
        aTask({ id: "t1", laborHours: 21, needs: ["boards"] }),
        aTask({ id: "t2", trade: "stone", title: "Set stone", laborHours: 12, after: [{ task: "t1" }] }),
      ],
      deliveries: [{ id: "boards", what: "siding boards", expected: "2026-12-08" }],
    }),
  ],
});
/** Alder is away on the day after tomorrow. */
const DAY_OFF = { from: "2026-12-09", to: "2026-12-09", why: "training" };

async function publish(desk: OpenDesk, why = ""): Promise<void> {
  const done = await desk.publish({ planId: desk.current().planId, why }, ROBIN);
  if (!done.ok) throw new Error(JSON.stringify(done.error));
}
async function make(desk: OpenDesk, change: Parameters<OpenDesk["make"]>[0], by = CASEY): Promise<void> {
  const made = await desk.make(change, by);
  if (!made.ok) throw new Error(JSON.stringify(made.error));
}
const dayOff = (desk: OpenDesk) => make(desk, { kind: "day-off-added", crew: "alder", input: DAY_OFF });
const listCalls = async () => new CallStore(await desks.database()).list({ limit: 100 });

describe("a plan that is published", () => {
  it("is the promise: all its blocks stand in the company, on record with who, when and why", async () => {
    const desk = await desks.open(TWO_HOUSES);
    expect(desk.current()).toMatchObject({ company: { published: null }, publication: null });
    const { blocks } = desk.current().plan;
    await publish(desk, "agreed with Noor");
    const { company, plan, publication } = desk.current();
    expect(company.published).toEqual(blocks.map((block) => ({ ...block, released: false })));
    expect(publication).toMatchObject({ version: 2, personName: "Robin", why: "agreed with Noor" });
    expect(publication?.plan?.blocks).toEqual(plan.blocks);
    const [row] = await listChanges(await desks.database(), { limit: 1 });
    expect(row).toMatchObject({
      version: 2,
      kind: "plan-published",
      sentence: "Plan published for Tue 8 Dec to Thu 10 Dec, the first one.",
      why: "agreed with Noor",
      before: { "published/only": null },
    });
    expect(await listCalls()).toEqual([]);
  });

  it("stays as it is for the company that has it published, keeps every rule, and can be made again", async () => {
    const desk = await desks.open(TWO_HOUSES, { improving: { iterations: 50 } });
    const { blocks } = desk.current().plan;
    await publish(desk);
    const { company, plan, planId, planning } = desk.current();
    expect(planning).toBeNull();
    expect(plan.blocks).toEqual(blocks);
    expect(checkPlan(company, plan)).toEqual([]);
    expect(plan.cost.changes).toBe(0);
    expect(await replayPlan(await desks.database(), planId)).toMatchObject({ value: { isEqual: true } });
  });

  it("is there for whoever opens the company next, with who published it", async () => {
    const desk = await desks.open(TWO_HOUSES);
    await publish(desk);
    const other = await desks.open();
    expect(other.current().company.published).toEqual(desk.current().company.published);
    expect(other.current().publication).toEqual(desk.current().publication);
    expect(other.current().planId).toBe(desk.current().planId);
  });

  it("keeps what crews were told of the hours that have gone by", async () => {
    let now = EVENING;
    const desk = await desks.open(TWO_HOUSES, { clock: () => now });
    await publish(desk);
    now = present(parseInstant("2026-12-08T11:00", "America/New_York"), "the next day");
    await make(desk, {
      kind: "hold-added",
      input: { from: "2026-12-09", to: "2026-12-10", trades: "all", jobs: "all", why: "storm" },
    });
    await publish(desk);
    const starts = present(desk.current().company.published, "what is published")
      .filter((block) => block.kind === "work" && block.crew === "alder")
      .map(({ start, end }) => `${start.slice(5, 16)} ${end.slice(11, 16)}`);
    expect(starts.slice(0, 2)).toEqual(["12-08T07:22 11:00", "12-08T11:20 12:00"]);
  });
});

describe("a plan that was made again with the same work", () => {
  it("may be published by whoever has seen it before", async () => {
    const desk = await desks.open(TWO_HOUSES);
    const { planId, plan } = desk.current();
    const change = { kind: "crew-language", crew: "alder", language: "es" } as const;
    expect(await desk.make(change, CASEY)).toEqual({ ok: true, value: undefined });
    expect(desk.current().planId).not.toBe(planId);
    expect(desk.current().plan.blocks).toEqual(plan.blocks);
    expect((await desk.publish({ planId }, ROBIN)).ok).toBe(true);
    expect(desk.current().publication).not.toBeNull();
  });
});

describe("a plan that is not published", () => {
  it("was replaced meanwhile: whoever wanted to publish it is told what was changed, and by whom", async () => {
    const desk = await desks.open(TWO_HOUSES);
    const { planId } = desk.current();
    await dayOff(desk);
    const done = await desk.publish({ planId }, ROBIN);
    expect(done).toMatchObject({
      ok: false,
      error: {
        kind: "stale",
        since: [{ personName: "Casey", sentence: "Alder is off Wed 9 Dec: training." }],
      },
    });
    expect(desk.current().company.published).toBeNull();
  });

  it("was changed by another process that this desk has not heard of yet: told the same", async () => {
    const desk = await desks.open(TWO_HOUSES);
    const { planId } = desk.current();
    const other = await desks.open();
    const [done] = await Promise.all([
      desk.publish({ planId }, ROBIN),
      other.make({ kind: "day-off-added", crew: "alder", input: DAY_OFF }, CASEY),
    ]);
    // Whichever of the two came first, a publish is of the plan that stood.
    if (done.ok) expect(desk.current().publication).not.toBeNull();
    else expect(done.error).toMatchObject({ kind: "stale", since: [{ personName: "Casey" }] });
    expect((await desk.publish({ planId }, ROBIN)).ok).toBe(false);
  });

  it.each([0, 999])("never was: number %s is refused", async (planId) => {
    const desk = await desks.open(TWO_HOUSES);
    expect(await desk.publish({ planId }, ROBIN)).toMatchObject({
      error: { refusal: { kind: "another-plan" } },
    });
  });

  it("breaks a rule: the rule is named, and nothing is published", async () => {
    const desk = await desks.open(TWO_HOUSES, {
      worker: {
        ways: () => Promise.reject(new Error("nobody asks for ways out")),
        plan: async (company, { asOf }) => {
          const { planCompany } = await import("../../src/planner/plan.js");
          const plan = planCompany(company, { asOf, seed: 1, iterations: 0 });
          // The stone comes an hour early.
          const earlier = (text: string): string =>
            text.replace(/T(\d\d)/, (_, hour: string) => `T${String(Number(hour) - 3).padStart(2, "0")}`);
          return {
            ...plan,
            blocks: plan.blocks.map((block) =>
              block.crew === "birch"
                ? { ...block, start: earlier(block.start), end: earlier(block.end) }
                : block,
            ),
          };
        },
        close: () => Promise.resolve(),
      },
    });
    const before = desk.current().source;
    const done = await desk.publish({ planId: desk.current().planId }, ROBIN);
    expect(done).toMatchObject({ ok: false, error: { kind: "refused", refusal: { kind: "plan-broken" } } });
    const sentence = !done.ok && done.error.kind === "refused" ? done.error.refusal.sentence : "";
    expect(sentence).toMatch(/^The plan breaks rules, so it was not published\. Rule \d+ \([a-z' ]+\): /);
    expect(sentence).toContain("Set stone");
    expect(desk.current().source).toEqual(before);
    expect(await listChanges(await desks.database(), { limit: 5 })).toHaveLength(1);
  });

  it("is published already: there is nothing to do", async () => {
    const desk = await desks.open(TWO_HOUSES);
    await publish(desk);
    expect(await desk.publish({ planId: desk.current().planId }, ROBIN)).toMatchObject({
      error: { refusal: { kind: "published-already" } },
    });
  });

  it("has no work in it", async () => {
    const desk = await desks.open(aCompany());
    expect(await desk.publish({ planId: desk.current().planId }, ROBIN)).toMatchObject({
      error: { refusal: { kind: "nothing-to-publish" } },
    });
  });

  it("comes with a reason that cannot be kept, or with no company at all", async () => {
    const empty = await desks.open();
    expect(await empty.publish({ planId: 1 }, ROBIN)).toMatchObject({
      error: { refusal: { kind: "no-company" } },
    });
    const desk = await desks.open(TWO_HOUSES);
    expect(
      await desk.publish({ planId: desk.current().planId, why: "x".repeat(2_001) }, ROBIN),
    ).toMatchObject({
      error: { kind: "faults", faults: [{ path: "reason" }] },
    });
  });
});

describe("calls to make", () => {
  it("are of whoever's date has moved since the last publish, with the old date, the new one and a sentence", async () => {
    const desk = await desks.open(TWO_HOUSES);
    await publish(desk);
    await dayOff(desk);
    await publish(desk);
    const calls = await listCalls();
    expect(calls.map(({ whom, subject, version }) => `${version} ${whom} ${subject}`)).toEqual([
      "4 homeowner spruce-14",
      "4 subcontractor birch",
      "4 supplier spruce-14/boards",
    ]);
    expect(calls[0]).toMatchObject({
      name: "Homeowner, 14 Spruce Lane",
      dates: [
        { what: "Siding", from: "2026-12-09", to: "2026-12-10" },
        { what: "Stone", from: "2026-12-09", to: "2026-12-10" },
      ],
    });
    expect(calls[0]?.say).toMatch(
      /^Good afternoon, this is Tern Rock Exteriors\. The siding at your house begins Thursday 10 December instead of Wednesday 9 December, because /,
    );
    expect(calls[0]?.say).not.toContain("Harbor");
    const [newest] = await listChanges(await desks.database(), { limit: 1 });
    expect(newest?.sentence).toContain("2 tasks moved, 3 calls to make.");
  });

  it("are ticked off one by one, with who and when, and the tick can be taken away", async () => {
    const desk = await desks.open(TWO_HOUSES);
    await publish(desk);
    await dayOff(desk);
    await publish(desk);
    const store = new CallStore(await desks.database());
    const [first] = await store.list({ limit: 1 });
    const id = present(first, "a call").id;
    const at = new Date("2026-12-07T23:30:00Z");
    expect(await store.setTick(id, { at, by: "Casey" })).toMatchObject({
      value: { tickedBy: "Casey", tickedAt: at },
    });
    expect(await store.countOpen()).toBe(2);
    expect((await store.list({ limit: 9 })).map((call) => call.id).at(-1)).toBe(id);
    expect(await store.setTick(id, { at, by: "Robin" })).toMatchObject({ error: { kind: "ticked-already" } });
    expect(await store.setTick(id, null)).toMatchObject({ value: { tickedBy: null } });
    expect(await store.setTick(id, null)).toMatchObject({ error: { kind: "not-ticked" } });
    expect(await store.setTick(id + 100, null)).toMatchObject({ error: { kind: "no-such-call" } });
  });
});

describe("a publish that is taken back", () => {
  it("leaves the very promise that stood before, and withdraws the calls that nobody has made", async () => {
    const desk = await desks.open(TWO_HOUSES);
    await publish(desk);
    const { published } = desk.current().source;
    await dayOff(desk);
    await publish(desk);
    expect(await desk.undo(4, ROBIN, "")).toEqual({ ok: true, value: undefined });
    expect(desk.current().source["published"]).toEqual(published);
    expect(desk.current().publication?.version).toBe(2);
    expect((await listCalls()).map(({ withdrawnBy }) => withdrawnBy)).toEqual([5, 5, 5]);
  });

  it("has whoever was called already called back", async () => {
    const desk = await desks.open(TWO_HOUSES);
    await publish(desk);
    await dayOff(desk);
    await publish(desk);
    const store = new CallStore(await desks.database());
    const [homeowner] = await store.list({ limit: 1 });
    await store.setTick(present(homeowner, "a call").id, { at: new Date(), by: "Casey" });
    await desk.undo(4, ROBIN, "");
    const open = (await store.list({ limit: 9 })).filter(
      (call) => call.tickedAt === null && call.withdrawnBy === null,
    );
    expect(open).toMatchObject([
      {
        version: 5,
        name: "Homeowner, 14 Spruce Lane",
        dates: [
          { what: "Siding", from: "2026-12-10", to: "2026-12-09" },
          { what: "Stone", from: "2026-12-10", to: "2026-12-09" },
        ],
      },
    ]);
    expect(open[0]?.say).toContain(
      "Siding: Wednesday 9 December holds after all, and not Thursday 10 December.",
    );
  });

  it("and whose undo is taken back too, is as it was made, and its calls are to be made again", async () => {
    const desk = await desks.open(TWO_HOUSES);
    await publish(desk);
    await dayOff(desk);
    await publish(desk);
    const { published } = desk.current().source;
    await desk.undo(4, ROBIN, "");
    await desk.undo(5, ROBIN, "");
    expect(desk.current().source["published"]).toEqual(published);
    expect(desk.current().publication?.version).toBe(4);
    expect((await listCalls()).map(({ withdrawnBy }) => withdrawnBy)).toEqual([null, null, null]);
  });

  it("and was the first one, leaves nothing published", async () => {
    const desk = await desks.open(TWO_HOUSES);
    await publish(desk);
    await desk.undo(2, ROBIN, "");
    expect(desk.current()).toMatchObject({ company: { published: null }, publication: null });
  });

  it("stays where another one or a release came after it, and says so", async () => {
    const desk = await desks.open(TWO_HOUSES);
    await publish(desk);
    await make(desk, { kind: "sheet-released", crew: "alder", date: "2026-12-08" });
    expect(await desk.undo(2, ROBIN, "")).toMatchObject({
      error: {
        refusal: { kind: "depended-on", sentence: expect.stringContaining("Day sheet of Alder") as unknown },
      },
    });
  });

  it("stays where a crew has reported on what it moved, and says which report", async () => {
    const desk = await desks.open(TWO_HOUSES);
    await publish(desk);
    await make(desk, {
      kind: "task-progress",
      job: "harbor-12",
      task: "t1",
      input: {
        status: "under-way",
        leftHours: 9,
        doneBy: "alder",
        startedAt: "2026-12-07T14:00",
        finishedAt: null,
      },
    });
    expect(await desk.undo(2, ROBIN, "")).toMatchObject({
      error: {
        refusal: {
          kind: "depended-on",
          sentence: expect.stringContaining("Side the front at 12 Harbor Road") as unknown,
        },
      },
    });
    await desk.undo(3, ROBIN, "");
    expect(await desk.undo(2, ROBIN, "")).toMatchObject({ ok: true });
  });
});

describe("a published day sheet inside the freeze", () => {
  it("keeps its day whatever comes, until a person releases it; kept again, it stands again", async () => {
    const desk = await desks.open(TWO_HOUSES);
    await publish(desk);
    const first = () =>
      desk
        .current()
        .plan.tasks.find(({ job }) => job === "harbor-12")
        ?.start.slice(0, 10);
    await make(desk, { kind: "promise-moved", job: "spruce-14", promised: "2026-12-08" });
    expect(first()).toBe("2026-12-08");
    await make(desk, { kind: "sheet-released", crew: "alder", date: "2026-12-08" });
    const released = desk.current().company.published?.filter((block) => block.released) ?? [];
    expect([...new Set(released.map(({ crew, start }) => `${crew} ${start.slice(0, 10)}`))]).toEqual([
      "alder 2026-12-08",
    ]);
    await make(desk, { kind: "sheet-kept", crew: "alder", date: "2026-12-08" });
    expect(desk.current().company.published?.some((block) => block.released)).toBe(false);
    const changes = await listChanges(await desks.database(), { limit: 2 });
    expect(changes.map(({ sentence }) => sentence)).toEqual([
      "Day sheet of Alder for Tue 8 Dec kept again as it was published.",
      "Day sheet of Alder for Tue 8 Dec released: the plan may move that day.",
    ]);
  });

  it.each([
    ["no-such-crew", "elm", "2026-12-08"],
    ["sheet-past", "alder", "2026-12-06"],
    ["sheet-not-frozen", "alder", "2026-12-10"],
    ["no-such-sheet", "birch", "2026-12-08"],
  ])("is not released where it makes no sense: %s", async (kind, crew, date) => {
    const desk = await desks.open(TWO_HOUSES);
    await publish(desk);
    const { source } = desk.current();
    expect(await desk.make({ kind: "sheet-released", crew, date }, ROBIN)).toMatchObject({
      error: { refusal: { kind } },
    });
    expect(desk.current().source).toEqual(source);
  });

  it("is released once, and there must be one", async () => {
    const desk = await desks.open(TWO_HOUSES);
    const sheet = { crew: "alder", date: "2026-12-08" };
    expect(await desk.make({ kind: "sheet-released", ...sheet }, ROBIN)).toMatchObject({
      error: { refusal: { kind: "nothing-published" } },
    });
    await publish(desk);
    expect(await desk.make({ kind: "sheet-kept", ...sheet }, ROBIN)).toMatchObject({
      error: { refusal: { kind: "sheet-as-is" } },
    });
    expect(await desk.make({ kind: "sheet-released", crew: "alder", date: "soon" }, ROBIN)).toMatchObject({
      error: { kind: "faults" },
    });
  });
});
