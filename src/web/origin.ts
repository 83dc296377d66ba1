/** The address under which the browser reaches the app, for a link that is passed on: `https://plan.example`. */
import type { Request } from "express";

export function originOf(req: Request): string {
  return `${req.protocol}://${req.get("host") ?? "localhost"}`;
}
