/**
 * Slips and ways out: the page on which a slip is reported, the page that compares ways out of it, the page of one way, and
 * the form that takes one. Until a way is taken nothing is written: the slip travels in the address and in the forms. A form
 * that did nothing comes back above the ways as they are now, with all that was entered.
 */
import { Router, urlencoded, type Request, type Response } from "express";
import { buildBoardView } from "../board/board-view.js";
import { buildReading } from "../board/reading.js";
import { buildSlipChoices, listWishCrews, toDateChoices } from "../board/slip-view.js";
import { buildWayDifference } from "../board/way-difference-view.js";
import { buildWaysTable, listWishCosts } from "../board/ways-out-view.js";
import { sayWish, wayName } from "../board/way-words.js";
import { parseCivilDate } from "../domain/time.js";
import type { Wish } from "../planner/ways-out/wishes.js";
import type { Desk } from "../services/desk.js";
import { findPublishedDifference } from "../services/publishing.js";
import type { Slip } from "../services/slip.js";
import type { WaysShown } from "../services/ways.js";
import { actorOf } from "./actor.js";
import { buildBoardStyle } from "./board-style.js";
import { toFailedForm, WITHOUT_VERSION, type FailedForm } from "./change-failure.js";
import { readReason, textOf } from "./form-body.js";
import { toFormFaults, type FormFault } from "./form-faults.js";
import { renderPage } from "./page.js";
import { paths, ROUTES } from "./paths.js";
import { readingOf } from "./reading-of.js";
import { parseSlipForm, readSlipForm, SLIP_FIELDS, toSlipFields, type SlipForm } from "./slip-form.js";
import { readTakeForm, toBasisFields } from "./take-way-form.js";
import {
  listOfferedDates,
  readWaysForm,
  toPermissionFields,
  toPermissions,
  toWaysFields,
  type WaysForm,
} from "./ways-form.js";
import { parseWishForm, toWishFields } from "./wish-form.js";

/** What is said above the ways of a form that did nothing. */
interface Returned {
  readonly status: number;
  readonly faults: readonly FormFault[];
  readonly reason: string;
}

/** Reporting a slip, comparing ways out, taking one. */
export function waysOutRoutes(desk: Desk): Router {
  const router = Router();
  const readBody = urlencoded({ extended: false, limit: "64kb" });

  const showSlip = (
    res: Response,
    form: SlipForm | null,
    from: string,
    faults: readonly FormFault[] = [],
  ): void => {
    const state = desk.current();
    const view = {
      choices: buildSlipChoices(readingOf(state), state.nowMinute, from),
      today: state.today,
      kind: form?.kind ?? null,
      values: form?.values ?? {},
      faults,
    };
    renderPage(res, "slip", {
      title: faults.length > 0 ? "A slip: not taken in" : "Something slipped",
      view,
    });
  };

  /** The ways that a form asks for; undefined where it does not say what has slipped, which has been answered then. */
  const compare = async (
    res: Response,
    form: WaysForm,
    open: string | undefined,
    returned: Returned | undefined,
  ): Promise<Compared | undefined> => {
    const state = desk.current();
    let slip: Slip | null = null;
    if (form.slip !== null) {
      const parsed = parseSlipForm(form.slip, state);
      if (!parsed.ok) {
        showSlip(res.status(422), form.slip, houseOf(form.slip), prefixed(form.slip, parsed.error));
        return undefined;
      }
      slip = parsed.value;
    }
    const wish = form.wish === null ? null : parseWishForm(form.wish, state);
    const wished = wish?.ok === true ? wish.value : null;
    const permissions = toPermissions(form);
    const shown = await desk.compareWays({
      slip,
      permissions,
      wish: wished,
      ...(open !== undefined && { open }),
    });
    if (!shown.ok) {
      const { status, faults } = toFailedForm(shown.error);
      const fields = form.slip === null ? [] : SLIP_FIELDS[form.slip.kind];
      const said = prefixed(form.slip, toFormFaults(faults, fields));
      showSlip(res.status(status), form.slip, houseOf(form.slip), [...(returned?.faults ?? []), ...said]);
      return undefined;
    }
    // Each kind of wish has a form of its own.
    const wishFaults =
      wish?.ok === false
        ? wish.error.map(({ field, sentence }) => ({
            field: `${form.wish?.kind ?? ""}-${field ?? ""}`,
            sentence,
          }))
        : [];
    return { slip, wish: wished, shown: shown.value, wishFaults };
  };

  const showWays = async (res: Response, form: WaysForm, returned?: Returned): Promise<void> => {
    const compared = await compare(res, form, undefined, returned);
    if (compared === undefined) return;
    const { shown, wishFaults } = compared;
    const state = desk.current();
    const offered = listOfferedDates(state);
    const status = returned?.status ?? (wishFaults.length > 0 ? 422 : 200);
    const fields = toWaysFields(form);
    const view = {
      slipSentence: shown.slipSentence,
      slipFields: toSlipFields(form.slip),
      wishFields: toWishFields(form.wish),
      permissionFields: toPermissionFields(form),
      changeSlip: paths.slip(toSlipFields(form.slip)),
      table: buildWaysTable(shown.company, shown.ways),
      ways: shown.ways.map(({ key, kinds, digest }) => ({
        key,
        name: wayName({ key, kinds }),
        open: paths.lookAtWay([...fields, ["way", key]]),
        take: [...fields, ...toBasisFields(shown.basis, key, digest)],
        isHold: key === "hold",
      })),
      permissions: {
        resequence: form.resequence,
        lend: form.lend,
        stretch: toDateChoices(offered.stretch).map((choice) => ({
          ...choice,
          isChosen: form.stretch.some((date) => date === choice.value),
        })),
        saturday: toDateChoices(offered.saturday).map((choice) => ({
          ...choice,
          isChosen: form.saturday.some((date) => date === choice.value),
        })),
      },
      wished:
        compared.wish === null || shown.wish === null
          ? null
          : {
              sentence: sayWish(shown.company, compared.wish),
              refusal: shown.wish.kind === "refused" ? shown.wish.sentence : "",
              costs: shown.wish.kind === "kept" ? listWishCosts(shown.wish.costs) : [],
              without: paths.ways([...toSlipFields(form.slip), ...toPermissionFields(form)]),
            },
      wish: {
        kind: form.wish?.kind ?? "",
        values: form.wish?.values ?? {},
        crews: listWishCrews(shown.company),
        tasks: buildSlipChoices(readingOf(state), state.nowMinute, "").tasks,
        today: state.today,
      },
      reason: returned?.reason ?? "",
      faults: [...(returned?.faults ?? []), ...wishFaults],
    };
    const title = view.faults.length > 0 ? "Ways out: nothing was done" : "Ways out";
    renderPage(res.status(status), "ways-out", { title, view });
  };

  const showWay = async (res: Response, req: Request, form: WaysForm): Promise<void> => {
    const key = textOf(req.query, "way");
    const compared = await compare(res, form, key, undefined);
    if (compared === undefined) return;
    const { shown } = compared;
    if (shown.opened === null) {
      await showWays(res, form, {
        status: 404,
        reason: "",
        faults: [{ field: undefined, sentence: NO_SUCH_WAY }],
      });
      return;
    }
    const { way, company, plan } = shown.opened;
    const reading = buildReading(company, plan);
    const [first] = way.difference.days;
    const date = parseCivilDate(textOf(req.query, "date")) ?? first?.date ?? desk.current().today;
    const board = buildBoardView(reading, date);
    const fields = toWaysFields(form);
    const look = (other: string): string =>
      `${paths.lookAtWay([...fields, ["way", key], ["date", other]])}#board`;
    const difference = buildWayDifference(reading, way.difference, findPublishedDifference(company, plan));
    const view = {
      ...board,
      name: wayName(way),
      slipSentence: shown.slipSentence,
      table: buildWaysTable(shown.company, [way]),
      difference: { ...difference, days: difference.days.map((day) => ({ ...day, board: look(day.date) })) },
      dayBefore: look(board.previous),
      dayAfter: look(board.next),
      back: paths.ways(fields),
      take: [...fields, ...toBasisFields(shown.basis, key, way.digest)],
      isHold: key === "hold",
    };
    renderPage(res, "way-out", { title: `Way out: ${view.name}`, view, styleRules: buildBoardStyle(board) });
  };

  router.get(ROUTES.slip, (req, res) => {
    const form = readSlipForm(req.query);
    showSlip(res, form, textOf(req.query, "house") || houseOf(form));
  });

  router.get(ROUTES.ways, (req, res) =>
    showWays(res, readWaysForm(req.query, listOfferedDates(desk.current()))),
  );

  router.get(ROUTES.lookAtWay, (req, res) =>
    showWay(res, req, readWaysForm(req.query, listOfferedDates(desk.current()))),
  );

  router.post(ROUTES.takeWay, readBody, async (req, res) => {
    const form = readWaysForm(req.body, listOfferedDates(desk.current()));
    const reason = readReason(req.body);
    const showFailed = ({ status, faults }: FailedForm): Promise<void> =>
      showWays(res, form, { status, faults: toFormFaults(faults, ["reason"]), reason });
    const taken = readTakeForm(req.body);
    if (taken === undefined) {
      await showFailed(WITHOUT_VERSION);
      return;
    }
    const state = desk.current();
    const slip = form.slip === null ? null : parseSlipForm(form.slip, state);
    const wish = form.wish === null ? null : parseWishForm(form.wish, state);
    if (slip?.ok === false || wish?.ok === false) {
      // Says what is wrong with it, beside the field.
      await showWays(res, form);
      return;
    }
    const order = {
      ...taken,
      slip: slip?.value ?? null,
      wish: wish?.value ?? null,
      permissions: toPermissions(form),
      why: reason,
    };
    const done = await desk.takeWay(order, actorOf(res));
    if (done.ok) res.redirect(303, taken.publish ? paths.calls() : paths.home());
    else await showFailed(toFailedForm(done.error));
  });

  return router;
}

interface Compared {
  readonly slip: Slip | null;
  readonly wish: Wish | null;
  readonly shown: WaysShown;
  readonly wishFaults: readonly FormFault[];
}

const NO_SUCH_WAY = "There is no such way out any more. These are the ways that there are now.";

/** The house that a slip is about, which is then offered in full. */
function houseOf(form: SlipForm | null): string {
  const named = form?.values["job"] ?? form?.values["task"] ?? form?.values["place"] ?? "";
  return (named.split(":").at(-1) ?? "").split("/")[0] ?? "";
}

/** Faults with the ids that the fields have on the page of slips, where each kind has a form of its own. */
function prefixed(form: SlipForm | null, faults: readonly FormFault[]): readonly FormFault[] {
  return faults.map(({ field, sentence }) => ({
    field: field === undefined || form === null ? undefined : `${form.kind}-${field}`,
    sentence,
  }));
}
