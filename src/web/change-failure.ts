/**
 * What a form says when its change did not happen: a status and sentences, the same for every form.
 */
import type { Fault } from "../domain/company-file.js";
import type { ChangeFailure } from "../services/changes/company-change.js";

export interface FailedForm {
  /** 422 for what was typed, 409 for what stands in the way. */
  readonly status: 409 | 422;
  /** Paths are those of the company file; empty where the whole form is meant. */
  readonly faults: readonly Fault[];
}

export function toFailedForm(failure: ChangeFailure): FailedForm {
  switch (failure.kind) {
    case "faults":
      return { status: 422, faults: failure.faults };
    case "refused":
      return { status: 409, faults: [{ path: "", sentence: failure.refusal.sentence }] };
    case "stale":
      return { status: 409, faults: failure.since.map(toStaleFault) };
  }
}

/** A form that names no version was not made here, or was changed on its way. */
export const WITHOUT_VERSION: FailedForm = {
  status: 409,
  faults: [
    {
      path: "",
      sentence: "This form does not say what it was made for, so nothing was done. Open the page again.",
    },
  ],
};

function toStaleFault(change: { readonly personName: string; readonly sentence: string }): Fault {
  const sentence =
    `${change.personName} has changed this since you opened the page: ${change.sentence} ` +
    "Nothing of yours was done. Look at it as it is now, and send yours again if it is still right.";
  return { path: "", sentence };
}
