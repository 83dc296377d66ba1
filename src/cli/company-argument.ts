/** The company file that a command names, read and checked, or the sentences that say what is wrong with it. */
import { formatFault } from "../domain/company-file.js";
import { fail, type Result } from "../domain/result.js";
import { readCompanyFile, type CompanyDocument, type ReadFailure } from "../store/company-file-store.js";

export async function readCompanyArgument(path: string): Promise<Result<CompanyDocument, readonly string[]>> {
  const read = await readCompanyFile(path);
  return read.ok ? read : fail(listReadSentences(read.error));
}

export function listReadSentences(failure: ReadFailure): readonly string[] {
  if (failure.kind === "unreadable") return [failure.sentence];
  const { path, faults } = failure;
  const count = faults.length === 1 ? "1 fault" : `${faults.length} faults`;
  return [`The company file ${path} has ${count}:`, ...faults.map(formatFault)];
}
