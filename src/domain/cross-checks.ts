/**
 * What ties one part of a company file to another: ids, references, order in time. Each check reads a draft, in which
 * parts of the wrong shape are left out, and is silent where a part that it needs cannot be read.
 */
import { listCrewFaults } from "./crew-checks.js";
import { entriesOf, isGiven, isReadable, type CompanyDraft } from "./draft.js";
import type { PlacedFault, Report } from "./fault.js";
import { checkKnown, checkUnique, knownIds, type Catalogue } from "./id-checks.js";
import { listJobFaults } from "./job-checks.js";
import { parseInstant } from "./time.js";

/** All faults between the parts, as far as these can be read. */
export function listCrossFaults(file: CompanyDraft): PlacedFault[] {
  const faults: PlacedFault[] = [];
  const report: Report = (at, sentence) => faults.push({ at, sentence });
  const catalogue: Catalogue = {
    trades: knownIds("trade", file.trades),
    crews: knownIds("crew", file.crews),
    equipment: knownIds("equipment", file.equipment),
    jobs: knownIds("job", file.jobs),
  };
  for (const part of ["trades", "crews", "equipment", "jobs", "holds"] as const) {
    checkUnique([part], file[part], "id", report);
  }
  checkUnique(["trades"], file.trades, "stamp", report);
  checkLimits(file, report);
  listCrewFaults(file, catalogue, report);
  listJobFaults(file, catalogue, report);
  checkHolds(file, catalogue, report);
  checkPublished(file, catalogue, report);
  return faults;
}

function checkLimits(file: CompanyDraft, report: Report): void {
  for (const [index, { limits }] of entriesOf(file.trades)) {
    if (!isReadable(limits) || !isGiven(limits.minF) || !isGiven(limits.maxF)) continue;
    if (limits.minF <= limits.maxF) continue;
    report(
      ["trades", index, "limits", "minF"],
      `The lowest temperature, ${limits.minF}, is above the highest, ${limits.maxF}. Exchange them, or write null where there is no limit.`,
    );
  }
}

function checkHolds(file: CompanyDraft, { trades, jobs }: Catalogue, report: Report): void {
  const zone = isReadable(file.company) ? file.company.timeZone : undefined;
  for (const [index, hold] of entriesOf(file.holds)) {
    const at = ["holds", index];
    if (Array.isArray(hold.trades)) {
      for (const [nth, trade] of entriesOf(hold.trades))
        checkKnown([...at, "trades", nth], trade, trades, report);
    }
    if (Array.isArray(hold.jobs)) {
      for (const [nth, job] of entriesOf(hold.jobs)) checkKnown([...at, "jobs", nth], job, jobs, report);
    }
    if (!isGiven(zone) || !isGiven(hold.from) || !isGiven(hold.to)) continue;
    const [from, to] = [parseInstant(hold.from, zone), parseInstant(hold.to, zone)];
    if (from !== undefined && to !== undefined && to <= from) {
      report(
        [...at, "to"],
        `The hold ends at ${hold.to}, which is not after its start at ${hold.from}. Write a later end.`,
      );
    }
  }
}

function checkPublished(file: CompanyDraft, { crews }: Catalogue, report: Report): void {
  if (!isGiven(file.published)) return;
  const zone = isReadable(file.company) ? file.company.timeZone : undefined;
  for (const [index, block] of entriesOf(file.published)) {
    const at = ["published", index];
    if (isGiven(block.crew)) checkKnown([...at, "crew"], block.crew, crews, report);
    if (!isGiven(zone) || !isGiven(block.start) || !isGiven(block.end)) continue;
    const [start, end] = [parseInstant(block.start, zone), parseInstant(block.end, zone)];
    if (start !== undefined && end !== undefined && end < start) {
      report(
        [...at, "end"],
        `The block ends at ${block.end}, before its start at ${block.start}. Write a later end.`,
      );
    }
  }
}
