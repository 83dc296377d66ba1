/** The day sheet of a crew, in both languages. */
import { describe, expect, it } from "vitest";
import { buildDaySheetView, type DaySheetView } from "../../src/board/day-sheet-view.js";
import { buildPrintView } from "../../src/board/print-view.js";
import { buildPromise } from "../../src/board/promise.js";
import { buildReading } from "../../src/board/reading.js";
import type { Language } from "../../src/board/spoken-time.js";
import { WORDS } from "../../src/board/words.js";
import type { Hold } from "../../src/domain/company-schema.js";
import { present } from "../../src/domain/result.js";
import { civilDate } from "../../src/domain/time.js";
import { decemberCompany, decemberPlan } from "./december-fixture.js";

const TODAY = civilDate("2026-12-07");
function sheetOf(crewId: string, date = "2026-12-08", language: Language = "en"): DaySheetView {
  const reading = buildReading(decemberCompany(), decemberPlan());
  return buildDaySheetView(
    reading,
    present(reading.crews.get(crewId), crewId),
    civilDate(date),
    TODAY,
    language,
  );
}
const entryOf = (sheet: DaySheetView, title: string) =>
  present(
    sheet.entries.find((entry) => entry.title === title),
    title,
  );

describe("the day sheet", () => {
  it("begins with the place and time of the start: the yard for a crew that loads there", () => {
    expect(sheetOf("alder")).toMatchObject({
      startTime: "7:00 am",
      startPlace: "at the yard, to load",
      firstHouse: "then to 14 Tern Lane",
      startGeo: "geo:43.66000,-70.26000",
    });
    expect(sheetOf("birch")).toMatchObject({
      startTime: "7:10 am",
      startPlace: "3 Gull Street",
      firstHouse: "",
    });
  });

  it("tells the light of the day and when tools go down, house by house where there are several", () => {
    expect(sheetOf("birch").sun).toEqual([
      { label: "First light, sun up", time: "7:02 am" },
      { label: "Last light, sun sets", time: "4:04 pm" },
    ]);
    expect(sheetOf("birch").toolsDown).toEqual([{ label: "Tools down by", time: "3:00 pm" }]);
    expect(sheetOf("cedar").toolsDown).toEqual([
      { label: "Tools down at 27 Wharf Road", time: "3:00 pm" },
      { label: "Tools down at 14 Tern Lane", time: "3:19 pm" },
    ]);
  });

  it("counts light in hand, or what the dark takes, at the last house", () => {
    expect(sheetOf("alder").lightLine).toBe("19 min of light in hand after the shift");
    expect(sheetOf("cedar").lightLine).toBe("The dark takes 11 min of the shift");
  });

  it("names what comes before a task and by whom, and what waits for it", () => {
    const siding = entryOf(sheetOf("alder"), "Siding, left side");
    expect(siding.before).toEqual(["Wrap the left side: done by Birch"]);
    expect(siding.after).toEqual(["Caulk the left side: Cedar, Tue 8 Dec, 2:56 pm"]);
  });

  it("tells a neighbour without a crew by the day on which it ends", () => {
    expect(entryOf(sheetOf("birch"), "Set windows, front").after).toContain(
      "Framing inspection: no crew, until end of Wed 9 Dec",
    );
  });

  it("says what to bring: equipment, and deliveries with where they are", () => {
    expect(entryOf(sheetOf("alder"), "Siding, left side").bring).toEqual(["Boom lift"]);
    expect(entryOf(sheetOf("birch"), "Set windows, front").bring).toEqual(["Three windows: is there"]);
  });

  it("gives steps and reasons once, when a task first comes, and then says that it goes on", () => {
    const [first, second] = sheetOf("alder").entries.filter((entry) => entry.title === "Siding, left side");
    expect(first?.steps.length).toBeGreaterThan(2);
    expect(first).toMatchObject({ goesOn: false, units: "units 1 to 2 of 4", why: "no light before 7:01" });
    expect(second).toMatchObject({
      goesOn: true,
      units: "units 3 to 4 of 4",
      steps: [],
      before: [],
      why: "",
    });
  });

  it("names each house once, with its cautions and the rule they come from, where the crew arrives", () => {
    const places = sheetOf("cedar").entries.filter((entry) => entry.place !== "");
    expect(places.map((entry) => entry.place)).toEqual(["27 Wharf Road", "14 Tern Lane"]);
    for (const place of places) {
      expect(place.cautions.length).toBeGreaterThan(0);
      for (const caution of place.cautions) expect(caution.rule).not.toBe("");
    }
    expect(sheetOf("cedar").deferral).toContain("Local code");
  });

  it("gives each drive a link for the phone's map, to where it goes, and its distance in the reader's language", () => {
    const drives = (language: Language) =>
      sheetOf("cedar", "2026-12-08", language)
        .entries.filter((entry) => entry.kind === "travel")
        .map(({ title, geo }) => [title, geo]);
    for (const [, geo] of drives("en")) expect(geo).toMatch(/^geo:\d+\.\d{5},-\d+\.\d{5}$/);
    expect(drives("en").map(([title]) => title)).toEqual(["Drive, 3 mi"]);
    expect(drives("es").map(([title]) => title)).toEqual(["Manejar, 3 millas"]);
  });

  it("lists once at the top what the whole day needs brought", () => {
    expect(sheetOf("alder").bring).toEqual(["Boom lift"]);
    expect(sheetOf("birch").bring).toContain("Three windows: is there");
  });

  it("has more tied down in the evening where a hold speaks of wind that day or the day after", () => {
    const listOf = (date: string) =>
      sheetOf("cedar", date).entries.findLast((entry) => entry.kind === "cleanup")?.checklist ?? [];
    const calm = listOf("2026-12-08");
    expect(calm.join()).toContain("tied or weighed down");
    expect(calm.join()).not.toContain("Wind coming");
    const company = decemberCompany();
    const holds = company.holds.map((hold) => ({ ...hold, why: "gusts to 38 mph" }));
    const windy = buildReading({ ...company, holds }, decemberPlan());
    const cedar = present(windy.crews.get("cedar"), "cedar");
    const sheet = buildDaySheetView(windy, cedar, civilDate("2026-12-08"), TODAY, "en");
    expect(sheet.entries.findLast((entry) => entry.kind === "cleanup")?.checklist.join()).toContain(
      "Wind coming",
    );
  });

  it("tells a hold to the crews that it concerns: at a house of their day, or at all of them", () => {
    const holdsOf = (crewId: string, hold: Partial<Hold>, plan = decemberPlan()) => {
      const [, gusts] = decemberCompany().holds;
      const stuck = { ...present(gusts, "a hold of Tuesday"), trades: ["siding"], why: "Stuck", ...hold };
      const reading = buildReading({ ...decemberCompany(), holds: [stuck] }, plan);
      const crew = present(reading.crews.get(crewId), crewId);
      const tuesday = civilDate("2026-12-08");
      expect(
        buildPrintView(reading, tuesday, TODAY, buildPromise(reading, null, TODAY)).board?.holds,
      ).toHaveLength(1);
      return buildDaySheetView(reading, crew, tuesday, TODAY, "en").holds;
    };
    expect(holdsOf("alder", { jobs: ["pilot-5"] })).toEqual([]);
    expect(holdsOf("alder", { jobs: ["pilot-5", "tern-14"] })).toEqual([
      "Siding, 5 Pilot Way, 14 Tern Lane, Tue 8 Dec, 1:00 pm to 4:00 pm: Stuck",
    ]);
    expect(holdsOf("cedar", { jobs: ["tern-14"] })).toEqual([]);
    expect(holdsOf("cedar", { jobs: "all" })).toEqual([]);
    expect(holdsOf("alder", { jobs: "all" })).toHaveLength(1);
    // Dune stays at home that day.
    expect(holdsOf("dune", { jobs: "all" })).toHaveLength(1);
    expect(holdsOf("dune", { jobs: ["pilot-5"] })).toEqual([]);
    const [first, ...others] = decemberPlan().tasks;
    const task = present(first, "a planned task");
    const waits = { ...task, crew: "dune", because: { ...task.because, kind: "hold" as const } };
    const waiting = decemberPlan({ blocks: [], tasks: [waits, ...others] });
    expect(holdsOf("dune", { jobs: ["tern-14"] }, waiting)).toHaveLength(1);
  });

  it("ends each stay with the list for the end of the day", () => {
    const cleanups = sheetOf("cedar").entries.filter((entry) => entry.kind === "cleanup");
    expect(cleanups).toHaveLength(2);
    for (const cleanup of cleanups) expect(cleanup.checklist.length).toBeGreaterThan(3);
  });

  it("says of a crew at home that it is not called out, and why", () => {
    expect(sheetOf("elm")).toMatchObject({
      isCalledOut: false,
      notCalledOut: "Elm is not called out that day: training.",
      entries: [],
    });
  });

  it("speaks Spanish: dates, times, trades, reasons and cautions", () => {
    const sheet = sheetOf("alder", "2026-12-08", "es");
    expect(sheet).toMatchObject({
      title: "Martes 8 de diciembre",
      startTime: "7:00 a.m.",
      otherLanguage: "en",
    });
    const siding = entryOf(sheet, "Siding, left side");
    expect(siding).toMatchObject({
      trade: "Revestimiento",
      units: "unidades 1 a 2 de 4",
      why: "no hay luz antes de las 7:01",
    });
  });

  it("says everything in both languages", () => {
    expect(Object.keys(WORDS.es)).toEqual(Object.keys(WORDS.en));
    const same = Object.entries(WORDS.en).filter(
      ([key, text]) => text === Object.entries(WORDS.es).find(([other]) => other === key)?.[1],
    );
    expect(same).toEqual([]);
  });
});
