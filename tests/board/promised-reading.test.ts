/** What crews read of what is published, and in which words. */
import { describe, expect, it } from "vitest";
import type { PublishedBlock } from "../../src/domain/company-schema.js";
import type { Plan } from "../../src/domain/plan-format.js";
import { present } from "../../src/domain/result.js";
import type { CivilDate } from "../../src/domain/time.js";
import { buildDaySheetView } from "../../src/board/day-sheet-view.js";
import { buildPromise, type PublishedBy } from "../../src/board/promise.js";
import { buildPromisedReading, findStanding } from "../../src/board/promised-reading.js";
import type { Language } from "../../src/board/spoken-time.js";
import { decemberPlan } from "./december-fixture.js";
import {
  BY,
  delayed,
  LOADED,
  on,
  read,
  TODAY,
  toPublished,
  TUESDAY,
  WEDNESDAY,
} from "./published-fixture.js";

interface Asked {
  readonly date?: CivilDate;
  readonly language?: Language;
  readonly by?: PublishedBy;
  readonly today?: CivilDate;
  readonly crewId?: string;
}

describe("a crew's phone", () => {
  const sheetOf = (
    published: readonly PublishedBlock[] | null,
    plan: Plan,
    { date = TUESDAY, language = "en", by = BY, today = TODAY, crewId = "alder" }: Asked = {},
  ) => {
    const reading = read(published, plan);
    const promise = buildPromise(reading, published === null ? null : by, today);
    const crewReading = buildPromisedReading(reading, promise, today);
    const crew = present(crewReading.crews.get(crewId), crewId);
    return buildDaySheetView(crewReading, crew, date, today, language, promise);
  };
  const whole = toPublished(decemberPlan().blocks);

  it("shows a held day as it was published, with its light, though the plan has another by now", () => {
    const sheet = sheetOf(whole, delayed());
    expect(sheet).toMatchObject({ isCalledOut: true, startTime: "7:00 am", isPublished: true });
    expect(sheet.toolsDown).toEqual([{ label: "Tools down by", time: "2:50 pm" }]);
    expect(sheet.standing).toContain("go by this sheet");
    expect(sheet.entries).toEqual(sheetOf(whole, decemberPlan()).entries);
  });

  it("shows a later day by the plan, and says that it is a forecast, in both languages", () => {
    const sheet = sheetOf(whole, delayed(), { date: WEDNESDAY });
    expect(sheet).toMatchObject({
      isCalledOut: true,
      standing: "Forecast: this day may still change.",
      isPublished: false,
    });
    expect(sheetOf(whole, delayed(), { date: WEDNESDAY, language: "es" }).standing).toBe(
      "Pronóstico: este día aún puede cambiar.",
    );
    expect(sheet.nextDays.every(({ mark }) => mark === "")).toBe(true);
    expect(sheetOf(whole, delayed(), { date: TODAY }).nextDays.map(({ mark }) => mark)).toEqual([
      "published",
      "",
      "",
      "",
      "",
    ]);
  });

  it("gives what comes next with its time where that is published and holds, whatever the plan has by now", () => {
    const nextOf = (published: readonly PublishedBlock[], plan: Plan, by = BY) =>
      sheetOf(published, plan, { by }).entries.flatMap(({ after }) => after);
    expect(nextOf(whole, delayed("cedar"))).toEqual(["Caulk the left side: Cedar, Tue 8 Dec, 2:56 pm"]);
    expect(nextOf(whole, delayed("cedar"), LOADED)).toEqual([
      "Caulk the left side: Cedar, Tue 8 Dec, 2:56 pm",
    ]);
    const released = toPublished(decemberPlan().blocks, ({ crew }) => crew === "cedar");
    expect(nextOf(released, delayed("cedar"))).toEqual(["Caulk the left side: Cedar, forecast Wed 9 Dec"]);
  });

  it("gives what may still move by its date alone, and says in both languages that it is the forecast", () => {
    const plan = decemberPlan();
    const sooner = (text: string): string => text.replace("10T11:10", "10T10:50");
    const replanned = {
      ...plan,
      blocks: plan.blocks.map((block) => ({ ...block, start: sooner(block.start) })),
      tasks: plan.tasks.map((task) => ({ ...task, start: sooner(task.start) })),
    };
    const nextOf = (of: Plan, crewId: string, language: Language = "en") =>
      sheetOf(whole, of, { crewId, language }).entries.flatMap(({ after }) => after);
    expect(nextOf(plan, "cedar")).toEqual(["Set stone: Cedar, forecast Thu 10 Dec"]);
    expect(nextOf(replanned, "cedar")).toEqual(nextOf(plan, "cedar"));
    expect(nextOf(plan, "cedar", "es")).toEqual(["Set stone: Cedar, pronóstico jue 10 dic"]);
    expect(nextOf(plan, "birch")).toContain("Framing inspection: no crew, forecast until Wed 9 Dec");
    expect(nextOf(plan, "birch", "es")).toContain(
      "Framing inspection: sin cuadrilla, pronóstico hasta mié 9 dic",
    );
  });

  it("shows a released day by the plan, and says so", () => {
    const sheet = sheetOf(
      toPublished(decemberPlan().blocks, ({ crew }) => crew === "alder"),
      delayed(),
    );
    expect(sheet).toMatchObject({ isCalledOut: false, isPublished: false });
    expect(sheet.standing).toContain("released this day");
  });

  it("shows the plan as a forecast while nothing is published", () => {
    expect(sheetOf(null, decemberPlan()).standing).toBe(
      "Forecast: nothing is published yet, and this day may still change.",
    );
  });

  it.each([
    ["start", (text: string) => text.replace("08T07:00", "08T06:40"), "start at about 6:40 am"],
    [
      "work",
      (text: string) => text.replace("08T07:46", "08T08:10"),
      '"Siding, left side" from about 8:10 am',
    ],
    ["end", (text: string) => text.replace("08T15:17", "08T15:45"), "end at about 3:45 pm"],
  ])("says that the office has another %s of the same work by now", (_what, move, said) => {
    const plan = {
      ...decemberPlan(),
      blocks: decemberPlan().blocks.map((block) =>
        block.crew === "alder" ? { ...block, start: move(block.start), end: move(block.end) } : block,
      ),
    };
    const sheet = sheetOf(whole, plan);
    expect(sheet.standing).toBe(
      `Published: this day holds. The office's plan has other times by now: ${said}; until it publishes them, go by this sheet.`,
    );
    expect(sheet.entries).toEqual(sheetOf(whole, decemberPlan()).entries);
  });

  it("says nothing of minutes that nobody plans by", () => {
    const plan = {
      ...decemberPlan(),
      blocks: decemberPlan().blocks.map((block) => ({ ...block, end: block.end.replace("15:17", "15:24") })),
    };
    expect(sheetOf(whole, plan).standing).toBe("Published: this day holds.");
  });

  it("on a day that has begun asks how far the crew is, where the forecast has some of it later", () => {
    const asOf = on("08", "12:45");
    const plan = {
      ...decemberPlan(),
      asOf,
      blocks: decemberPlan()
        .blocks.filter(({ end }) => end > asOf)
        .map((block) =>
          block.task === "caulk" ? { ...block, start: on("10", "08:00"), end: on("10", "08:23") } : block,
        ),
    };
    expect(sheetOf(whole, plan, { today: TUESDAY, crewId: "cedar" }).standing).toBe(
      'Published: this day holds. The office\'s forecast has "Caulk the left side" on Thu 10 Dec by now: report how far you are.',
    );
    expect(sheetOf(whole, plan, { today: TUESDAY }).standing).toBe("Published: this day holds.");
  });
});

describe("where only pieces of work are published, a crew's phone", () => {
  const pieces = toPublished(decemberPlan().blocks).filter(({ kind }) => kind === "work");
  const sheetOf = (plan: Plan, language: Language = "en", today = TODAY) => {
    const reading = read(pieces, plan);
    const promise = buildPromise(reading, LOADED, today);
    const crewReading = buildPromisedReading(reading, promise, today);
    return buildDaySheetView(
      crewReading,
      present(reading.crews.get("alder"), "Alder"),
      TUESDAY,
      today,
      language,
      promise,
    );
  };
  const kindsOf = (sheet: ReturnType<typeof sheetOf>): string =>
    sheet.entries.map(({ kind, time }) => `${kind} ${time}`).join(", ");

  it("names these as what holds and calls the rest of the day a forecast", () => {
    const sheet = sheetOf(decemberPlan());
    expect(sheet).toMatchObject({ isPublished: false, startTime: "7:00 am" });
    expect(sheet.standing).toBe(
      'Forecast; some work is published. Published, and it holds: "Siding, left side" at 14 Tern Lane, 7:46 am to 2:36 pm; all else on this sheet, its times too, may still change.',
    );
    expect(sheetOf(decemberPlan(), "es").standing).toContain(
      "«Siding, left side» en 14 Tern Lane, de las 7:46 a.m. a las 2:36 p.m.",
    );
  });

  it("shows these as they were published where the plan has something else on that day", () => {
    const sheet = sheetOf(delayed());
    expect(sheet).toMatchObject({ isCalledOut: true, isPublished: true, startTime: "7:46 am" });
    expect(kindsOf(sheet)).toBe("work 7:46 am, work 12:30 pm");
    // No plan has figures of it: the sun, the shift to 3:30 and half an hour of cleanup have.
    expect(sheet.toolsDown).toEqual([{ label: "Tools down by", time: "3:00 pm" }]);
    expect(sheet.lightLine).toBe("19 min of light in hand after the shift");
    expect(sheet.standing).toContain("The office has another plan for this day by now");
  });

  it("never calls a forecast published once the pieces have gone by, and still shows them", () => {
    const plan = {
      ...decemberPlan(),
      asOf: on("08", "14:40"),
      blocks: decemberPlan().blocks.filter(({ start }) => start >= on("08", "14:36")),
    };
    const sheet = sheetOf(plan, "en", TUESDAY);
    expect(sheet.standing).not.toContain("this day holds");
    expect(sheet.isPublished).toBe(false);
    expect(kindsOf(sheet)).toBe("work 7:46 am, work 12:30 pm, cleanup 2:36 pm, travel 3:06 pm");
  });
});

describe("what is published", () => {
  it("holds up to the end of the freeze, and may still move after it", () => {
    const reading = read(toPublished(decemberPlan().blocks));
    const promise = buildPromise(reading, BY, TODAY);
    expect([TODAY, TUESDAY, WEDNESDAY].map((date) => findStanding(promise, "alder", date, TODAY))).toEqual([
      "published",
      "published",
      "forecast",
    ]);
  });
});
