/** Crews: known trades, shifts that end after they start, days off in order, a yard where they start at one. */
import { entriesOf, isReadable, recordOf, type CompanyDraft, type CrewDraft } from "./draft.js";
import type { Place, Report } from "./fault.js";
import { checkHours } from "./hours-check.js";
import { checkKnown, type Catalogue } from "./id-checks.js";

export function listCrewFaults(file: CompanyDraft, { trades }: Catalogue, report: Report): void {
  const yard = isReadable(file.company) ? file.company.yard : undefined;
  for (const [index, crew] of entriesOf(file.crews)) {
    const at = ["crews", index];
    for (const [id] of recordOf(crew.trades)) checkKnown([...at, "trades", id], id, trades, report);
    for (const [day, hours] of recordOf(crew.week)) checkHours([...at, "week", day], "shift", hours, report);
    checkExtra([...at, "extra"], crew.extra, report);
    for (const [nth, { from, to }] of entriesOf(crew.off)) {
      if (!isReadable(from) || !isReadable(to) || from <= to) continue;
      report(
        [...at, "off", nth, "to"],
        `The days off end on ${to}, before they begin on ${from}. Exchange the two dates.`,
      );
    }
    if (crew.startsAt === "yard" && yard === null) {
      report(
        [...at, "startsAt"],
        'This crew starts at the yard, but company.yard is not given. Add the yard with its lat and lon, or write "site".',
      );
    }
  }
}

function checkExtra(at: Place, extra: CrewDraft["extra"], report: Report): void {
  const seen = new Set<string>();
  for (const [nth, { date, hours }] of entriesOf(extra)) {
    checkHours([...at, nth, "hours"], "extra shift", hours, report);
    if (!isReadable(date)) continue;
    if (seen.has(date)) {
      report(
        [...at, nth, "date"],
        `There are two extra shifts on ${date}. Write one, from the first hour to the last.`,
      );
    }
    seen.add(date);
  }
}
