/** What the people who live in a house are shown, and what they are not. */
import { describe, expect, it } from "vitest";
import { buildHomeownerView, type HomeownerView } from "../../src/board/homeowner-view.js";
import { HOMEOWNER_WORDS } from "../../src/board/homeowner-words.js";
import { buildPromise } from "../../src/board/promise.js";
import { buildPromisedReading } from "../../src/board/promised-reading.js";
import { buildReading } from "../../src/board/reading.js";
import type { Language } from "../../src/board/spoken-time.js";
import type { Company, CompanyInput, Hold } from "../../src/domain/company-schema.js";
import type { Plan } from "../../src/domain/plan-format.js";
import { present } from "../../src/domain/result.js";
import { civilDateAt, parseInstant } from "../../src/domain/time.js";
import { decemberCompany, decemberPlan } from "./december-fixture.js";

const ZONE = "America/New_York";

interface Seen {
  readonly language?: Language;
  readonly company?: Company;
  readonly plan?: Plan;
  readonly now?: string;
}

function viewOf(
  jobId: string,
  {
    language = "en",
    company = decemberCompany(),
    plan = decemberPlan(),
    now = "2026-12-07T15:10",
  }: Seen = {},
): HomeownerView {
  const reading = buildReading(company, plan);
  const nowMinute = present(parseInstant(now, ZONE), now);
  const today = civilDateAt(nowMinute, ZONE);
  const promise = buildPromise(reading, null, today);
  const shown = buildPromisedReading(reading, promise, today);
  const job = present(reading.jobs.get(jobId), jobId);
  return buildHomeownerView(shown, job, { today, nowMinute }, language, promise);
}

const published = (
  isIn: (block: Plan["blocks"][number]) => boolean = () => true,
  change: Partial<CompanyInput> = {},
): Company => ({
  ...decemberCompany(change),
  published: decemberPlan()
    .blocks.filter(isIn)
    .map((block) => ({ ...block, released: false })),
});

const HOLD = {
  from: "2026-12-08T13:00",
  to: "2026-12-08T16:00",
  jobs: "all",
  why: "",
  source: "hand",
} as const;

describe("a homeowner's page", () => {
  it("says who comes next by trade and company, and on which day", () => {
    expect(viewOf("tern-14").next).toMatch(/^Siding.*, Tuesday 8 December, by .+\.$/);
    expect(viewOf("tern-14", { language: "es" }).next).toMatch(
      /^Revestimiento.*, martes 8 de diciembre, por .+\.$/,
    );
  });

  it("names the trades of a day in the order in which they come, whatever the order of the crews", () => {
    const crews = decemberCompany().crews.toReversed() as CompanyInput["crews"];
    expect(viewOf("tern-14", { company: decemberCompany({ crews }) }).days[0]?.work).toBe(
      "Siding, caulk and paint",
    );
  });

  it("no longer lists today once all who came have left", () => {
    expect(viewOf("wharf-27", { now: "2026-12-08T10:00" }).next).toContain("Tuesday 8 December");
    expect(viewOf("wharf-27", { now: "2026-12-08T15:00" }).next).toContain("Thursday 10 December");
  });

  it("calls a day promised, with its time, where it is published and held, and expected otherwise", () => {
    const expected = viewOf("tern-14").days;
    expect(expected.length).toBeGreaterThan(0);
    for (const day of expected) expect(day).toMatchObject({ mark: "expected", from: "", isPromised: false });
    const [first] = viewOf("tern-14", { company: published() }).days;
    expect(first).toMatchObject({ mark: "promised", isPromised: true });
    expect(first?.from).toBe("from 7:26 am");
    const [, later] = viewOf("wharf-27", { company: published() }).days;
    expect(later).toMatchObject({ day: "Thursday 10 December", mark: "expected", from: "" });
  });

  it("calls a day promised where the work at this house is published, and not where the crew's at another is", () => {
    const isPiece = ({ kind, task }: Plan["blocks"][number]): boolean => kind === "work" && task === "caulk";
    const company = published((block) => isPiece(block) || (block.kind === "work" && block.task === "side"));
    expect(viewOf("tern-14", { company }).days[0]).toMatchObject({ mark: "promised", from: "from 7:46 am" });
    expect(viewOf("wharf-27", { company }).days[0]).toMatchObject({ mark: "expected", from: "" });
    expect(viewOf("tern-14", { company: published(isPiece) }).days[0]).toMatchObject({ mark: "expected" });
  });

  it("says what is waited for, the soonest first, without the office's own reasons", () => {
    const company = decemberCompany();
    const held = {
      ...decemberPlan(),
      tasks: decemberPlan().tasks.map((task) =>
        task.task === "blocks"
          ? {
              ...task,
              because: { ...task.because, kind: "hold" as const, until: "2026-12-10T00:00:00-05:00" },
            }
          : task,
      ),
    };
    const view = viewOf("gull-3", {
      plan: held,
      company: {
        ...company,
        holds: company.holds.map((hold) => ({ ...hold, why: "Dune is stuck at 5 Heron Court" })),
        jobs: company.jobs.map((job) => ({
          ...job,
          deliveries: job.deliveries.map((delivery) => ({ ...delivery, received: false })),
        })),
      },
    });
    expect(view.waiting).toEqual([
      "Delivery: Three windows, was expected Sat 5 Dec",
      "Weather: outdoor work on hold, Wednesday 9 December, all day",
      "Framing inspection, expected to be settled by Wed 9 Dec",
    ]);
  });

  it("tells of a hold only where it stops work here on its day, or is why nobody comes sooner", () => {
    const waiting = (jobId: string, hold: Partial<Hold>): readonly string[] =>
      viewOf(jobId, {
        company: { ...decemberCompany(), holds: [{ id: "h", trades: "all", ...HOLD, ...hold }] },
      }).waiting;
    expect(waiting("tern-14", { trades: ["stone"] })).toEqual([]);
    expect(waiting("tern-14", { trades: ["caulk"] })).toEqual([
      "On hold: caulk and paint, Tue 8 Dec, 1:00 pm to 4:00 pm",
    ]);
    expect(waiting("tern-14", { trades: ["caulk"], jobs: ["gull-3"] })).toEqual([]);
    expect(waiting("tern-14", { trades: ["caulk"], source: "forecast" })[0]).toMatch(
      /^Weather: caulk and paint/,
    );
    expect(waiting("tern-14", {})[0]).toBe("On hold: all work, Tue 8 Dec, 1:00 pm to 4:00 pm");
    // Nobody comes here on Wednesday anyway.
    expect(waiting("tern-14", { from: "2026-12-09T00:00", to: "2026-12-10T00:00" })).toEqual([]);
  });

  it("does not wait for a delivery that nothing open needs", () => {
    const company = decemberCompany();
    const jobs = company.jobs.map((job) => ({
      ...job,
      deliveries: job.deliveries.map((delivery) => ({ ...delivery, received: false })),
      tasks: job.tasks.map((task) => ({ ...task, needs: [] })),
    }));
    expect(viewOf("gull-3", { company: { ...company, jobs } }).waiting.join()).not.toContain("Delivery");
  });

  it("names no other house, no crew, no lead", () => {
    const company = published();
    for (const job of company.jobs) {
      for (const language of ["en", "es"] as const) {
        const { words: _, companyName: __, ...view } = viewOf(job.id, { language, company });
        const text = JSON.stringify(view);
        for (const other of company.jobs) if (other !== job) expect(text).not.toContain(other.name);
        for (const crew of company.crews) {
          expect(text).not.toContain(crew.name);
          expect(text).not.toContain(crew.lead);
        }
      }
    }
  });

  it("says so when all is done", () => {
    const company = decemberCompany();
    const jobs = company.jobs.map((job) => ({
      ...job,
      tasks: job.tasks.map((task) => ({ ...task, status: "done" as const })),
    }));
    const view = viewOf("gull-3", { company: { ...company, jobs } });
    expect(view).toMatchObject({ next: "All work at your house is done.", waiting: [], finish: "" });
  });

  it("says everything in both languages", () => {
    const same = Object.entries(HOMEOWNER_WORDS.en).filter(
      ([key, text]) => text === Object.entries(HOMEOWNER_WORDS.es).find(([other]) => other === key)?.[1],
    );
    expect(same).toEqual([]);
  });
});
