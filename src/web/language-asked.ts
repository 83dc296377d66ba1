/** The language that an address or a form asks for; undefined where it asks for none, or for one that there is not. */
import type { Request } from "express";
import type { Language } from "../board/spoken-time.js";
import { textOf } from "./form-body.js";

export function languageAsked(req: Pick<Request, "query">): Language | undefined {
  return languageIn(req.query);
}

/** The same of a form's fields, read or not. */
export function languageIn(fields: unknown): Language | undefined {
  const asked = textOf(fields, "lang");
  return asked === "en" || asked === "es" ? asked : undefined;
}
