/**
 * Published day sheets inside the freeze: released, so that the plan may move that crew's day, and kept again. Anything
 * further ahead moves by itself, and what has begun or gone by is no longer anybody's to release.
 */
import { longDate, shortDate } from "../../board/spoken-time.js";
import { onlyKey } from "../../domain/company-parts.js";
import type { Company, PublishedBlock } from "../../domain/company-schema.js";
import { ok, type Result } from "../../domain/result.js";
import { addDays, civilDate, civilDateAt, parseCivilDate, parseInstant } from "../../domain/time.js";
import type { Source } from "../../domain/company-parts.js";
import type { ChangeBase, ChangeRule, CompanyDocument, NotDone } from "./company-change.js";
import { refuse, refuseFields } from "./change-refusals.js";
import { editFields, entriesIn, type Body } from "./source-edit.js";

export interface SheetReleased extends ChangeBase {
  readonly kind: "sheet-released";
  readonly crew: string;
  /** YYYY-MM-DD, a date of the company's zone. */
  readonly date: string;
}

/** Takes a release back: the sheet stands again as it was published. */
export interface SheetKept extends ChangeBase {
  readonly kind: "sheet-kept";
  readonly crew: string;
  readonly date: string;
}

export const sheetReleasedRule: ChangeRule<SheetReleased> = {
  target: () => onlyKey("published"),
  apply: (document, change) => setReleased(document, change, true),
  say: (company, change) => `${sheetOf(company, change)} released: the plan may move that day.`,
};

export const sheetKeptRule: ChangeRule<SheetKept> = {
  target: () => onlyKey("published"),
  apply: (document, change) => setReleased(document, change, false),
  say: (company, change) => `${sheetOf(company, change)} kept again as it was published.`,
};

function setReleased(
  { source, company, nowMinute }: CompanyDocument,
  { crew: crewId, date }: SheetReleased | SheetKept,
  released: boolean,
): Result<Source, NotDone> {
  const crew = company.crews.find(({ id }) => id === crewId);
  if (crew === undefined) return refuse("no-such-crew", `There is no crew "${crewId}" any more.`);
  if (parseCivilDate(date) === undefined) {
    return refuseFields([{ path: "date", sentence: "This is no date. Open the page again." }]);
  }
  if (company.published === null) {
    return refuse("nothing-published", "Nothing is published, so there is no day sheet to release or keep.");
  }
  const today = civilDateAt(nowMinute, company.company.timeZone);
  const spoken = longDate(civilDate(date), "en");
  if (date < today) return refuse("sheet-past", `${spoken} has gone by, so its day sheet stays as it was.`);
  const last = addDays(today, company.policy.freezeDays);
  if (date > last) {
    return refuse(
      "sheet-not-frozen",
      `The day sheet of ${spoken} is not held yet: only sheets up to ${longDate(last, "en")} are, and the plan moves later ones by itself.`,
    );
  }
  const isOfSheet = (block: PublishedBlock | undefined): boolean =>
    block !== undefined && isOn(company, block, crewId, date);
  const sheet = company.published.filter(isOfSheet);
  if (sheet.length === 0) {
    return refuse("no-such-sheet", `No day sheet of ${crew.name} is published for ${spoken}.`);
  }
  if (sheet.every((block) => block.released === released)) {
    const already = released ? "has been released already" : "is kept already";
    return refuse("sheet-as-is", `The day sheet of ${crew.name} for ${spoken} ${already}.`);
  }
  const edit = { released: released ? true : undefined };
  const published = entriesIn(source["published"]).map((block, index) =>
    isOfSheet(company.published?.[index]) && isBody(block) ? editFields(block, edit) : block,
  );
  return ok({ ...source, published });
}

function isOn(company: Company, block: PublishedBlock, crew: string, date: string): boolean {
  const zone = company.company.timeZone;
  const start = parseInstant(block.start, zone);
  return block.crew === crew && start !== undefined && civilDateAt(start, zone) === date;
}

function isBody(value: unknown): value is Body {
  return typeof value === "object" && value !== null;
}

/** "Day sheet of Alder for Tue 8 Dec". */
function sheetOf(company: Company, { crew, date }: SheetReleased | SheetKept): string {
  const name = company.crews.find(({ id }) => id === crew)?.name ?? crew;
  return `Day sheet of ${name} for ${parseCivilDate(date) === undefined ? date : shortDate(civilDate(date), "en")}`;
}
