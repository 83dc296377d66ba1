/**
 * Faults of a company file, beside the fields of the form that wrote what is at fault. The name of the field is the last
 * one in the path that the form has (`jobs[2].tasks[0].leftHours` → "leftHours").
 */
import { formatFault, type Fault } from "../domain/company-file.js";

export interface FormFault {
  /** The field's id on the page; undefined where the sentence is about the whole form. */
  readonly field: string | undefined;
  readonly sentence: string;
}

/** `prefix` stands before each name where a page has several forms. */
export function toFormFaults(
  faults: readonly Fault[],
  fields: readonly string[],
  prefix = "",
): readonly FormFault[] {
  return faults.map((fault) => {
    const names = fault.path.match(/[A-Za-z]+/g) ?? [];
    const field = names.findLast((name) => fields.includes(name));
    // Something else in the file that this change would break: the path says where.
    if (field === undefined) return { field, sentence: formatFault(fault) };
    return { field: prefix + field, sentence: fault.sentence };
  });
}
