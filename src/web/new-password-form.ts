/**
 * A form in which somebody sets a password: typed twice, because nobody sees what she types, and never sent back.
 */
import type { PeopleFault } from "../services/people/house.js";
import { textOf } from "./form-body.js";

export interface PasswordFieldFault {
  readonly field: PeopleFault["field"] | "again";
  readonly sentence: string;
}

/** The password, and the fault where the two differ. */
export function readNewPassword(body: unknown): {
  readonly password: string;
  readonly faults: readonly PasswordFieldFault[];
} {
  const password = textOf(body, "password");
  const isSame = password === textOf(body, "again");
  return {
    password,
    faults: isSame
      ? []
      : [{ field: "again", sentence: "The two passwords are not the same. Type both again." }],
  };
}
