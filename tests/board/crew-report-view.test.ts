/** The page on which a crew reports, of today and of other days, and which of them its sheet leads to. */
import { describe, expect, it } from "vitest";
import {
  buildCrewReportView,
  type CrewReportView,
  type KeptReport,
} from "../../src/board/crew-report-view.js";
import { buildDaySheetView } from "../../src/board/day-sheet-view.js";
import { buildReading, type Reading } from "../../src/board/reading.js";
import type { Language } from "../../src/board/spoken-time.js";
import { present } from "../../src/domain/result.js";
import { MET } from "../../src/domain/site-report.js";
import { civilDate, parseInstant } from "../../src/domain/time.js";
import { planCompany } from "../../src/planner/plan.js";
import { aCompany, aCrew, aJob, aTask, parsed } from "../support/company-builder.js";

const ZONE = "America/New_York";
const at = (wall: string) => present(parseInstant(wall, ZONE), wall);
const TODAY = civilDate("2026-12-03");
const TOMORROW = civilDate("2026-12-04");

/** Alder has a day's work today and another tomorrow; Birch begins tomorrow. */
function read(asOf = "2026-12-03T07:00"): Reading {
  const company = parsed(
    aCompany({
      crews: [aCrew(), aCrew({ id: "birch", name: "Birch" })],
      jobs: [
        aJob({
          tasks: [
            aTask({ crew: "alder", laborHours: 20 }),
            aTask({
              id: "t2",
              title: "Side the back",
              crew: "alder",
              laborHours: 20,
              notBefore: "2026-12-04",
            }),
            aTask({ id: "t3", title: "Trim", crew: "birch", notBefore: "2026-12-04" }),
          ],
        }),
      ],
    }),
  );
  return buildReading(company, planCompany(company, { asOf: at(asOf), seed: 1, iterations: 1 }));
}

interface Options {
  readonly crew?: string;
  readonly language?: Language;
  readonly reports?: readonly KeptReport[];
}

function pageOf(
  date: string,
  { crew = "alder", language = "en", reports = [] }: Options = {},
): CrewReportView {
  const reading = read();
  let keys = 0;
  return buildCrewReportView({
    reading,
    crew: present(reading.crews.get(crew), crew),
    date: civilDate(date),
    today: TODAY,
    language,
    version: 1,
    reports,
    takenKey: "",
    returned: null,
    makeKey: () => String((keys += 1)),
  });
}

const sheetOf = (crew: string, date = TOMORROW, asOf?: string) => {
  const reading = read(asOf);
  return buildDaySheetView(reading, present(reading.crews.get(crew), crew), date, TODAY, "en");
};

const aKept = (more: Partial<KeptReport> = {}): KeptReport => ({
  id: 1,
  key: "k",
  date: TODAY,
  jobId: "spruce-14",
  taskId: "t1",
  body: { kind: "stuck", reason: "material", note: "" },
  saidAt: new Date(at("2026-12-03T14:00") * 60_000),
  meets: null,
  met: [],
  settledAt: null,
  isTakenBack: false,
  ...more,
});

describe("the button for reports", () => {
  it("on tomorrow's sheet leads to today's page, and says so, where the crew has work today", () => {
    expect(sheetOf("alder")).toMatchObject({ reportDate: TODAY, reportWords: "Report for today" });
    expect(sheetOf("alder", TODAY)).toMatchObject({ reportDate: TODAY, reportWords: "Report" });
  });

  it("leads to the day of the sheet where the crew has none today", () => {
    expect(sheetOf("birch")).toMatchObject({ reportDate: TOMORROW, reportWords: "Report" });
  });
});

describe("the page for reports", () => {
  it("of today has today's tasks, and leads to tomorrow's", () => {
    const page = pageOf("2026-12-03");
    expect(page).toMatchObject({
      heading: "Report",
      saidHeading: "Said today",
      isAhead: false,
      isOver: false,
    });
    expect(page.tasks.map(({ taskId }) => taskId)).toEqual(["t1"]);
    expect(page.otherDay).toEqual({ date: TOMORROW, words: "Report for Fri 4 Dec" });
  });

  it("of today has the next day's work where there is none today: it may have been begun", () => {
    expect(pageOf("2026-12-03", { crew: "birch" }).tasks.map(({ taskId }) => taskId)).toEqual(["t3"]);
  });

  it("of tomorrow says which day it is, what being stuck means then, and leads to today's", () => {
    const page = pageOf("2026-12-04");
    expect(page).toMatchObject({
      heading: "Report for Fri 4 Dec",
      saidHeading: "Said for Fri 4 Dec",
      isAhead: true,
      otherDay: { date: TODAY, words: "Report for Thu 3 Dec" },
      day: { heading: "The day: Fri 4 Dec" },
    });
    expect(page.stuckHint).toContain("from now until the end of Fri 4 Dec");
    expect(page.tasks.map(({ taskId }) => taskId)).toEqual(["t2"]);
    const spanish = pageOf("2026-12-04", { language: "es" });
    expect(spanish).toMatchObject({
      heading: "Avisar para el vie 4 dic",
      saidHeading: "Avisado para el vie 4 dic",
    });
    expect(spanish.stuckHint).toContain("hasta el fin del vie 4 dic");
  });

  it("of yesterday is over, and leads to today's", () => {
    expect(pageOf("2026-12-02")).toMatchObject({ isOver: true, otherDay: { date: TODAY } });
  });
});

describe("what was said", () => {
  const saidOf = (report: KeptReport, date = "2026-12-03", language: Language = "en") =>
    present(pageOf(date, { reports: [report], language }).said[0], "what was said");

  it("names the day that it is about, and the one on which it was said, where that is another", () => {
    const ahead = aKept({ date: TOMORROW, taskId: "t2" });
    expect(saidOf(ahead)).toMatchObject({
      about: "Side the back, 14 Spruce Lane · Fri 4 Dec",
      time: "2:00 pm",
      state: "The office has it.",
    });
    expect(saidOf(ahead, "2026-12-04")).toMatchObject({
      about: "Side the back, 14 Spruce Lane",
      time: "Thu 3 Dec, 2:00 pm",
    });
  });

  it("says what it has met by its true cause, in the language of the crew", () => {
    const over = aKept({
      met: ["day-over"],
      meets: "It was said on Wed 2 Dec, 2:00 pm, and that day is over.",
    });
    expect(saidOf(over).state).toBe("The office has it. That day is over, so nothing waits for it.");
    expect(saidOf(over, "2026-12-03", "es").state).toBe(
      "La oficina ya lo tiene. Ese día ya pasó, así que nada espera por esto.",
    );
    const both = aKept({ met: ["other-crew", "done-already"], meets: "…" });
    expect(saidOf(both).state).toBe(
      "The office has it. The plan had this work with another crew; the office sees both. " +
        "This work was down as done already; the office looks at it.",
    );
  });

  it("has a sentence of its own for each thing that it can meet, and one for what an older program wrote", () => {
    const states = MET.map((met) => saidOf(aKept({ met: [met], meets: "…" })).state);
    expect(new Set(states).size).toBe(MET.length);
    expect(saidOf(aKept({ meets: "…" })).state).toBe("The office has it. The office looks at it.");
  });
});
