/**
 * Who may ask what: every route with the roles it is open to, in one table. What is not in it is not there. The gate asks
 * it before any route runs, and pages ask it what to offer.
 * Only style, script and type (/static) are open without a row; they hold nothing of any company.
 */
import type { Role } from "../domain/person.js";
import { ROUTES } from "./paths.js";

/** A person by her role; a crew's phone by its link, for that crew's own pages; everybody else. */
export type Asker = Role | "crew-lead" | "nobody";
export type Method = "GET" | "POST";
export type RouteName = Exclude<keyof typeof ROUTES, "fonts" | "files">;

export interface AccessRow {
  readonly method: Method;
  readonly route: RouteName;
  /** A crew lead only where the route's `:id` is her own crew. */
  readonly may: readonly Asker[];
}

const OWNER = ["owner"] as const;
const OFFICE = ["owner", "dispatcher"] as const;
const PEOPLE = ["owner", "dispatcher", "viewer"] as const;
/** Who may say what goes on at a site. */
const REPORTERS = [...OFFICE, "crew-lead"] as const;
const CREWS_TOO = [...PEOPLE, "crew-lead"] as const;
export const EVERYBODY: readonly Asker[] = [...CREWS_TOO, "nobody"];

const row = (method: Method, route: RouteName, may: readonly Asker[]): AccessRow => ({ method, route, may });

export const ACCESS: readonly AccessRow[] = [
  row("GET", "home", PEOPLE),
  row("GET", "board", PEOPLE),
  row("GET", "planning", PEOPLE),
  row("GET", "live", PEOPLE),
  row("GET", "jobs", PEOPLE),
  row("GET", "job", PEOPLE),
  row("GET", "waiting", PEOPLE),
  row("GET", "holds", PEOPLE),
  row("POST", "holds", OFFICE),
  row("GET", "changeHold", OFFICE),
  row("POST", "changeHold", OFFICE),
  row("POST", "liftHold", OFFICE),
  row("POST", "movePromise", OFFICE),
  row("POST", "changeDelivery", OFFICE),
  row("POST", "taskProgress", OFFICE),
  row("GET", "moveTask", OFFICE),
  row("GET", "movePrice", OFFICE),
  row("POST", "moveTask", OFFICE),
  row("GET", "crews", PEOPLE),
  row("POST", "crewLanguage", OFFICE),
  row("GET", "daysOff", PEOPLE),
  row("POST", "daysOff", OFFICE),
  row("POST", "takeDaysOff", OFFICE),

  row("GET", "slip", OFFICE),
  row("GET", "ways", OFFICE),
  row("GET", "lookAtWay", OFFICE),
  row("POST", "takeWay", OFFICE),
  row("GET", "published", PEOPLE),
  row("POST", "published", OFFICE),
  row("POST", "undoPublish", OFFICE),
  row("POST", "releaseSheet", OFFICE),
  row("GET", "calls", PEOPLE),
  row("POST", "tickCall", OFFICE),
  row("POST", "untickCall", OFFICE),

  row("GET", "reports", PEOPLE),
  row("POST", "settleReport", OFFICE),
  row("POST", "unsettleReport", OFFICE),

  row("GET", "record", PEOPLE),
  row("POST", "undo", OFFICE),
  row("GET", "plans", PEOPLE),
  row("GET", "companyFile", OWNER),
  row("GET", "downloadCompany", OWNER),
  row("POST", "previewCompany", OWNER),
  row("POST", "loadCompany", OWNER),
  row("POST", "beginWithDemo", OWNER),

  row("GET", "crewLive", CREWS_TOO),
  row("GET", "crew", CREWS_TOO),
  row("GET", "crewDay", CREWS_TOO),
  row("GET", "printCrewDay", CREWS_TOO),
  row("GET", "crewReport", REPORTERS),
  row("GET", "crewReports", REPORTERS),
  row("POST", "crewReports", REPORTERS),
  row("GET", "printDay", PEOPLE),
  row("GET", "crewPhotos", CREWS_TOO),
  row("POST", "crewPhotos", [...OFFICE, "crew-lead"]),
  row("GET", "crewPhoto", CREWS_TOO),
  row("GET", "crewSmallPhoto", CREWS_TOO),
  row("GET", "photo", PEOPLE),
  row("GET", "smallPhoto", PEOPLE),

  row("GET", "crewLinks", OFFICE),
  row("POST", "makeCrewLink", OFFICE),
  row("POST", "renewCrewLink", OFFICE),
  row("POST", "revokeCrewLink", OFFICE),
  row("POST", "makeFeed", OFFICE),
  row("POST", "renewFeed", OFFICE),
  row("POST", "revokeFeed", OFFICE),

  row("GET", "houseLinks", OFFICE),
  row("POST", "makeHouseLink", OFFICE),
  row("POST", "renewHouseLink", OFFICE),
  row("POST", "revokeHouseLink", OFFICE),

  row("GET", "people", OWNER),
  row("POST", "people", OWNER),
  row("POST", "changeRole", OWNER),
  row("POST", "disablePerson", OWNER),
  row("POST", "enablePerson", OWNER),
  row("POST", "resetLink", OWNER),

  row("GET", "account", PEOPLE),
  row("POST", "changePassword", PEOPLE),
  row("POST", "signOut", PEOPLE),
  row("POST", "signOutEverywhere", PEOPLE),

  row("GET", "signIn", EVERYBODY),
  row("POST", "signIn", EVERYBODY),
  row("GET", "invitation", EVERYBODY),
  row("POST", "invitation", EVERYBODY),
  row("GET", "crewLink", EVERYBODY),
  row("GET", "feed", EVERYBODY),
  row("GET", "houseLink", EVERYBODY),
  row("GET", "health", EVERYBODY),
  row("GET", "ready", EVERYBODY),
  row("GET", "metrics", EVERYBODY),
];

/** Whether a role may ask a route at all (a crew lead: for her own crew). */
export function mayAsk(asker: Asker, method: Method, route: RouteName): boolean {
  return ACCESS.some((row) => row.method === method && row.route === route && row.may.includes(asker));
}

export interface AccessMatch {
  readonly row: AccessRow;
  /** What stands in the place of `:id` and the like, decoded. */
  readonly values: Readonly<Record<string, string>>;
}

/**
 * Every row that a request may be meant for; none where there is no such page. Where patterns overlap, all rows must
 * allow it: the gate need not know which route will answer. `path` as it was asked for, still escaped.
 */
export function findAccess(method: string, path: string): readonly AccessMatch[] {
  const asked = method === "HEAD" ? "GET" : method;
  return ACCESS.flatMap((row) => {
    if (row.method !== asked) return [];
    const values = matchPattern(ROUTES[row.route], path);
    return values === undefined ? [] : [{ row, values }];
  });
}

function matchPattern(pattern: string, path: string): Record<string, string> | undefined {
  const wanted = pattern.split("/");
  // Like express, which answers with and without a slash at the end.
  const given = (path.length > 1 && path.endsWith("/") ? path.slice(0, -1) : path).split("/");
  if (wanted.length !== given.length) return undefined;
  const values: Record<string, string> = {};
  for (const [index, step] of wanted.entries()) {
    const found = given[index] ?? "";
    if (step.startsWith(":") && found !== "") values[step.slice(1)] = decode(found);
    else if (step !== found) return undefined;
  }
  return values;
}

/** A broken escape stays as it is: express itself refuses it later. */
function decode(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}
