/** What the people who live in a house are shown, and what they are not. */
import { describe, expect, it } from "vitest";
import { buildHomeownerView, type HomeownerView } from "../../src/board/homeowner-view.js";
import { HOMEOWNER_WORDS } from "../../src/board/homeowner-words.js";
import { buildPromise } from "../../src/board/promise.js";
import { buildPromisedReading } from "../../src/board/promised-reading.js";
import { buildReading } from "../../src/board/reading.js";
import type { Language } from "../../src/board/spoken-time.js";
import type { Company } from "../../src/domain/company-schema.js";
import { present } from "../../src/domain/result.js";
import { civilDate } from "../../src/domain/time.js";
import { decemberCompany, decemberPlan } from "./december-fixture.js";

const TODAY = civilDate("2026-12-07");

function viewOf(
  jobId: string,
  { language = "en", company = decemberCompany() }: { language?: Language; company?: Company } = {},
): HomeownerView {
  const reading = buildReading(company, decemberPlan());
  const promise = buildPromise(reading, null, TODAY);
  const shown = buildPromisedReading(reading, promise, TODAY);
  return buildHomeownerView(shown, present(reading.jobs.get(jobId), jobId), TODAY, language, promise);
}

const published = (): Company => ({
  ...decemberCompany(),
  published: decemberPlan().blocks.map((block) => ({ ...block, released: false })),
});

describe("a homeowner's page", () => {
  it("says who comes next by trade and company, and on which day", () => {
    expect(viewOf("tern-14").next).toMatch(/^Siding.*, Tuesday 8 December, by .+\.$/);
    expect(viewOf("tern-14", { language: "es" }).next).toMatch(
      /^Revestimiento.*, martes 8 de diciembre, por .+\.$/,
    );
  });

  it("calls a day promised, with its time, where it is published and held, and expected otherwise", () => {
    const expected = viewOf("tern-14").days;
    expect(expected.length).toBeGreaterThan(0);
    for (const day of expected) expect(day).toMatchObject({ mark: "expected", from: "", isPromised: false });
    const [first] = viewOf("tern-14", { company: published() }).days;
    expect(first).toMatchObject({ mark: "promised", isPromised: true });
    expect(first?.from).toMatch(/^from \d+:\d\d [ap]m$/);
  });

  it("says what is waited for: deliveries, inspections, weather, without the office's own reasons", () => {
    const company = decemberCompany();
    const view = viewOf("gull-3", {
      company: {
        ...company,
        holds: company.holds.map((hold) => ({ ...hold, why: "Dune is stuck at 5 Heron Court" })),
        jobs: company.jobs.map((job) => ({
          ...job,
          deliveries: job.deliveries.map((delivery) => ({ ...delivery, received: false })),
        })),
      },
    });
    const waiting = view.waiting.join("\n");
    expect(waiting).toMatch(/Delivery: Three windows, expected /);
    expect(waiting).toMatch(/Framing inspection, expected to be settled by Wed 9 Dec/);
    expect(waiting).toMatch(/Weather: outdoor work is on hold, /);
    expect(waiting).not.toMatch(/Dune|Heron/);
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
