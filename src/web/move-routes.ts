/**
 * Moving work by hand: the page that says what a move would mean, the same in a few words for whoever drags, and the form
 * that makes it. Nothing is changed but by that form, and what it makes is what was shown.
 */
import { Router, urlencoded, type Request, type Response } from "express";
import { buildMoveView, parsePlace, sayMoveShortly } from "../board/move-view.js";
import type { Fault } from "../domain/company-file.js";
import { fail, ok, type Result } from "../domain/result.js";
import { parseCivilDate } from "../domain/time.js";
import type { MoveWish } from "../planner/moving/move-refusal.js";
import type { Desk, MovePreview, MoveToken } from "../services/desk.js";
import { actorOf } from "./actor.js";
import { toFailedForm, WITHOUT_VERSION, type FailedForm } from "./change-failure.js";
import { readReason, textOf } from "./form-body.js";
import { toFormFaults } from "./form-faults.js";
import { HttpRefusal } from "./http-refusal.js";
import { idIn } from "./id-in-path.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";
import { readingOf } from "./reading-of.js";

type MoveRequest = Request<{ id: string; task: string }>;

/** Looking at a move, and making it. */
export function moveRoutes(desk: Desk): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "16kb" });

  const show = async (
    res: Response,
    wish: MoveWish,
    returned?: { readonly reason: string; readonly failed: FailedForm },
  ): Promise<void> => {
    const outcome = await desk.planMove(wish);
    const view = {
      ...buildMoveView(readingOf(desk.current()), wish, outcome.ok ? ok(outcome.value.found) : outcome),
      token: outcome.ok ? toTokenFields(outcome.value) : null,
      reason: returned?.reason ?? "",
      faults: toFormFaults(returned?.failed.faults ?? [], ["reason"]),
    };
    if (returned !== undefined) res.status(returned.failed.status);
    const title = returned === undefined ? `Move ${view.what}` : `Move ${view.what}: not moved`;
    renderPage(res, "move", { title, view });
  };

  /** A page for a wish that cannot be read: what was asked for, and where to begin again. */
  const readOrShow = async (
    req: MoveRequest,
    res: Response,
    fields: unknown,
  ): Promise<MoveWish | undefined> => {
    const wish = readWish(desk, req, fields);
    if (wish.ok) return wish.value;
    await show(res, wish.error.instead, {
      reason: readReason(fields),
      failed: { status: 422, faults: wish.error.faults },
    });
    return undefined;
  };

  router.get(ROUTES.moveTask, async (req: MoveRequest, res) => {
    const wish = await readOrShow(req, res, req.query);
    if (wish !== undefined) await show(res, wish);
  });

  router.get(ROUTES.movePrice, async (req: MoveRequest, res) => {
    const wish = readWish(desk, req, req.query);
    if (!wish.ok) {
      const words = wish.error.faults.map(({ sentence }) => sentence).join(" ");
      res.status(422).json({ isPossible: false, words });
      return;
    }
    const { company } = desk.current();
    const outcome = await desk.planMove(wish.value);
    const words = sayMoveShortly(company, wish.value, outcome.ok ? ok(outcome.value.found) : outcome);
    res.json({ isPossible: outcome.ok, words, ...(outcome.ok && toTokenFields(outcome.value)) });
  });

  router.post(ROUTES.moveTask, readBody, async (req: MoveRequest, res) => {
    const wish = await readOrShow(req, res, req.body);
    if (wish === undefined) return;
    const [token, reason] = [readToken(req.body), readReason(req.body)];
    if (token === undefined) {
      await show(res, wish, { reason, failed: WITHOUT_VERSION });
      return;
    }
    const moved = await desk.move(wish, token, actorOf(res), reason);
    if (moved.ok) res.redirect(303, paths.board(wish.date));
    else await show(res, wish, { reason, failed: toFailedForm(moved.error) });
  });

  return router;
}

function toTokenFields({ token }: MovePreview): Readonly<Record<string, string>> {
  return { plan: String(token.planId), asOf: String(token.asOf), digest: token.digest };
}

function readToken(body: unknown): MoveToken | undefined {
  const [plan, asOf, digest] = ["plan", "asOf", "digest"].map((name) => textOf(body, name));
  if (!isWhole(plan) || !isWhole(asOf) || digest === undefined || digest === "") return undefined;
  return { planId: Number(plan), asOf: Number(asOf), digest };
}

function isWhole(text: string | undefined): text is string {
  return text !== undefined && /^\d{1,15}$/.test(text);
}

interface UnreadWish {
  readonly faults: readonly Fault[];
  /** What the page shows in its place. */
  readonly instead: MoveWish;
}

function readWish(desk: Desk, req: MoveRequest, fields: unknown): Result<MoveWish, UnreadWish> {
  const [job, task] = [idIn(req.params.id), idIn(req.params.task)];
  const { company, today } = desk.current();
  const found = company.jobs.find(({ id }) => id === job)?.tasks.find(({ id }) => id === task);
  if (found === undefined) throw new HttpRefusal(404, "There is no such task. Open the board again.");
  const [crewText, dateText, placeText] = ["crew", "date", "place"].map((name) => textOf(fields, name));
  const crew = company.crews.find(({ id }) => id === crewText);
  const date = parseCivilDate(dateText ?? "");
  const place = parsePlace(placeText ?? "");
  if (crew !== undefined && date !== undefined && place !== undefined) {
    return ok({ job, task, crew: crew.id, date, place });
  }
  const faults: Fault[] = [
    ...(crew === undefined ? [{ path: "", sentence: "Choose a crew that there is." }] : []),
    ...(date === undefined ? [{ path: "", sentence: "Choose a day, written as year-month-day." }] : []),
    ...(place === undefined
      ? [{ path: "", sentence: "Choose a place in the day: first or last, or beside another task." }]
      : []),
  ];
  const instead: MoveWish = {
    job,
    task,
    crew: crew?.id ?? company.crews[0]?.id ?? "",
    date: date ?? today,
    place: place ?? { kind: "first" },
  };
  return fail({ faults, instead });
}
