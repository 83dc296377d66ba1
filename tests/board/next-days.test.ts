/** The next five days of a crew, each short enough for a line or two of a phone. */
import { expect, it } from "vitest";
import { listNextDays, type NextDayView } from "../../src/board/next-days.js";
import { buildReading } from "../../src/board/reading.js";
import type { Language } from "../../src/board/spoken-time.js";
import type { Company } from "../../src/domain/company-schema.js";
import { present } from "../../src/domain/result.js";
import { civilDate } from "../../src/domain/time.js";
import { decemberCompany, decemberPlan } from "./december-fixture.js";

const MONDAY = "2026-12-07";
const TUESDAY = "2026-12-08";

interface Asked {
  readonly after?: string;
  readonly language?: Language;
  readonly company?: Company;
}

function daysOf(
  crewId: string,
  { after = TUESDAY, language = "en", company = decemberCompany() }: Asked = {},
) {
  const reading = buildReading(company, decemberPlan());
  const crew = present(reading.crews.get(crewId), crewId);
  return listNextDays(reading, crew, civilDate(after), (date) => date === TUESDAY, language);
}

const lineOf = ({ day, start, where, stamps, hold, mark }: NextDayView): string =>
  [day, start, where, ...stamps.map(({ stamp }) => `[${stamp.letters}]`), hold, mark]
    .filter((part) => part !== "")
    .join(" ");

/** With houses whose names are long. */
function withNames(names: Readonly<Record<string, string>>): Company {
  const company = decemberCompany();
  return { ...company, jobs: company.jobs.map((job) => ({ ...job, name: names[job.id] ?? job.name })) };
}

it("a day has its start, its houses and the stamps of its trades; a day at home says what holds it", () => {
  expect(daysOf("cedar").map(lineOf)).toEqual([
    "Wed 9 Dec not called out rain all day",
    "Thu 10 Dec 10:50 am 27 Wharf Road [ST]",
    "Fri 11 Dec not called out",
    "Sat 12 Dec not called out",
    "Sun 13 Dec not called out",
  ]);
  expect(daysOf("cedar", { after: MONDAY, company: { ...decemberCompany(), holds: [] } })[0]?.where).toBe(
    "27 Wharf Road, 14 Tern Lane",
  );
  expect(lineOf(present(daysOf("cedar", { after: MONDAY })[0], "Tuesday"))).toBe(
    "Tue 8 Dec 7:30 am 27 Wharf Road +1 [ST] [CK] hold published",
  );
  expect(daysOf("cedar", { after: MONDAY, language: "es" }).slice(0, 2).map(lineOf)).toEqual([
    "mar 8 dic 7:30 a.m. 27 Wharf Road +1 [ST] [CK] pausa publicado",
    "mié 9 dic no sale rain all day",
  ]);
});

it("a hold is told to the crews whose trades it stops", () => {
  const [tuesday, wednesday] = daysOf("alder", { after: MONDAY });
  expect([tuesday?.hold, wednesday?.hold]).toEqual(["", "rain all day"]);
});

it("long names and reasons are cut, and further houses counted: the sheet has them in full", () => {
  const company = withNames({
    "wharf-27": "The yellow house behind the boatyard at 27 Wharf Road",
    "tern-14": "14 Tern Lane",
  });
  const [tuesday] = daysOf("cedar", { after: MONDAY, company });
  expect(tuesday?.where).toBe("The yellow house beh… +1");
  const [wet] = company.holds;
  const why = "rain and wind off the water all day, and snow after dark";
  const [, wednesday] = daysOf("cedar", {
    after: MONDAY,
    company: { ...company, holds: [{ ...present(wet, "the hold"), why }] },
  });
  expect(wednesday?.hold).toBe("rain and wind off the water all day…");
});

it("no line is longer than two lines of a phone take, whatever the company has named", () => {
  const long = "x".repeat(80);
  const company = withNames({ "wharf-27": long, "tern-14": long, "gull-3": long });
  for (const crew of company.crews) {
    for (const day of daysOf(crew.id, { after: MONDAY, language: "es", company })) {
      expect(lineOf(day).length, lineOf(day)).toBeLessThanOrEqual(78);
    }
  }
});
