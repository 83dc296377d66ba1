/** The language that an address asks for; undefined where it asks for none, or for one that there is not. */
import type { Request } from "express";
import type { Language } from "../board/spoken-time.js";

export function languageAsked(req: Pick<Request, "query">): Language | undefined {
  const asked = req.query["lang"];
  return asked === "en" || asked === "es" ? asked : undefined;
}
