/** What a crew's calendar shows of what is published. */
import { describe, expect, it } from "vitest";
import { listFeedEvents } from "../../src/board/crew-feed.js";
import { companySchema, type CompanyInput } from "../../src/domain/company-schema.js";
import { present } from "../../src/domain/result.js";
import { civilDate } from "../../src/domain/time.js";
import { aCompany, aCrew, aJob, aTask } from "../support/company-builder.js";

type Published = NonNullable<CompanyInput["published"]>;
const block = (
  kind: Published[number]["kind"],
  start: string,
  end: string,
  job: string | null,
): Published[number] => ({
  crew: "alder",
  kind,
  job,
  task: kind === "work" ? "t1" : null,
  units: kind === "work" ? [1, 2] : null,
  start,
  end,
});

const TODAY = civilDate("2027-03-12");

function eventsOf(published: Published, language: "en" | "es" = "en") {
  const company = companySchema.parse(
    aCompany({
      crews: [aCrew({ trades: { siding: 1 }, language })],
      jobs: ["harbor-12", "spruce-14"].map((id) => aJob({ id, name: id, tasks: [aTask({ units: 4 })] })),
      published,
    }),
  );
  return listFeedEvents({ company, publication: null, today: TODAY }, present(company.crews[0], "Alder"));
}

const at = (minute: number): string => new Date(minute * 60_000).toISOString().slice(0, 16);

describe("a calendar event", () => {
  it("is right on both sides of a clock change: seven in the morning is another hour in UTC", () => {
    const events = eventsOf([
      block("work", "2027-03-12T07:00", "2027-03-12T15:00", "harbor-12"),
      block("work", "2027-03-15T07:00", "2027-03-15T15:00", "harbor-12"),
    ]);
    expect(events.map(({ body }) => [at(body.start), at(body.end)])).toEqual([
      ["2027-03-12T12:00", "2027-03-12T20:00"],
      ["2027-03-15T11:00", "2027-03-15T19:00"],
    ]);
  });

  it("is a stay: setup, work, cleanup and what lies between, without loading and driving", () => {
    const events = eventsOf([
      block("load", "2027-03-15T06:30", "2027-03-15T06:45", null),
      block("travel", "2027-03-15T06:45", "2027-03-15T07:00", "harbor-12"),
      block("setup", "2027-03-15T07:00", "2027-03-15T07:15", "harbor-12"),
      block("work", "2027-03-15T07:15", "2027-03-15T09:00", "harbor-12"),
      block("break", "2027-03-15T09:00", "2027-03-15T09:30", null),
      block("work", "2027-03-15T09:30", "2027-03-15T10:00", "harbor-12"),
      block("travel", "2027-03-15T10:00", "2027-03-15T10:30", "spruce-14"),
      block("work", "2027-03-15T10:30", "2027-03-15T12:00", "spruce-14"),
      block("travel", "2027-03-15T12:00", "2027-03-15T12:30", "harbor-12"),
      block("work", "2027-03-15T12:30", "2027-03-15T13:00", "harbor-12"),
    ]);
    expect(events.map(({ uid, body }) => [uid, at(body.start), at(body.end)])).toEqual([
      ["2027-03-15.alder.harbor-12@daylap", "2027-03-15T11:00", "2027-03-15T14:00"],
      ["2027-03-15.alder.spruce-14@daylap", "2027-03-15T14:30", "2027-03-15T16:00"],
      ["2027-03-15.alder.harbor-12.2@daylap", "2027-03-15T16:30", "2027-03-15T17:00"],
    ]);
  });

  it("says what to do, with its units", () => {
    const [event] = eventsOf([block("work", "2027-03-15T07:00", "2027-03-15T15:00", "harbor-12")]);
    expect(event?.body.description).toMatch(/units 1 to 2 of 4/);
    expect(event?.body.summary).toMatch(/^harbor-12: /);
  });

  const onThreeDays = (kind: "work" | "setup"): Published =>
    ["2027-03-12", "2027-03-13", "2027-03-14"].flatMap((date) => [
      block(kind, `${date}T07:00`, `${date}T07:30`, "harbor-12"),
      block("work", `${date}T07:30`, `${date}T15:00`, "harbor-12"),
    ]);
  const sayingOf = (published: Published, language: "en" | "es" = "en") =>
    eventsOf(published, language).map(({ body }) => [body.isTentative, body.description.split("\n").at(-1)]);

  it("is firm up to the end of the freeze and tentative after it, in the words of the day's sheet", () => {
    expect(sayingOf(onThreeDays("setup"))).toEqual([
      [false, "Published: this day holds."],
      [false, "Published: this day holds."],
      [true, "Forecast: this day may still change."],
    ]);
    expect(sayingOf(onThreeDays("setup"), "es")[2]).toEqual([
      true,
      "Pronóstico: este día aún puede cambiar.",
    ]);
  });

  it("says that the work holds where only pieces of work are published", () => {
    expect(sayingOf(onThreeDays("work"))[0]).toEqual([false, "Published: this work holds."]);
  });

  it("is tentative where a person has released the crew's day", () => {
    const [first, ...others] = onThreeDays("setup");
    expect(sayingOf([{ ...present(first, "a block"), released: true }, ...others])[0]).toEqual([
      true,
      "Forecast: the office has released this day, and it may still change.",
    ]);
  });
});
