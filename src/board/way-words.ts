/** What ways out and wishes are called. */
import type { Company } from "../domain/company-schema.js";
import type { WayKind } from "../planner/ways-out/way-out.js";
import type { Wish } from "../planner/ways-out/wishes.js";
import { taskTitle } from "./board-tags.js";
import { shortDate } from "./spoken-time.js";

const NAMES = {
  hold: "Hold the order",
  resequence: "Resequence",
  lend: "Lend",
  stretch: "Stretch",
  saturday: "Saturday",
} as const satisfies Record<WayKind, string>;

/** "Hold the order", "Resequence, lend and stretch"; "By hand" for the way of a wish, whose key says so. */
export function wayName({
  key,
  kinds,
}: {
  readonly key: string;
  readonly kinds: readonly WayKind[];
}): string {
  if (key === "by-hand") return "By hand";
  const names = kinds.map((kind, place) =>
    place === 0 || kind === "saturday" ? NAMES[kind] : NAMES[kind].toLowerCase(),
  );
  return names.length <= 1
    ? names.join("")
    : `${names.slice(0, -1).join(", ")} and ${names.slice(-1).join("")}`;
}

/** "Side the front at 12 Harbor Road by Cedar". */
export function sayWish(company: Company, wish: Wish): string {
  const crewName = (id: string): string => company.crews.find((crew) => crew.id === id)?.name ?? id;
  const taskName = (jobId: string, taskId: string): string => {
    const job = company.jobs.find(({ id }) => id === jobId);
    const task = job?.tasks.find(({ id }) => id === taskId);
    return `${task === undefined ? taskId : taskTitle(task.title, task.area)} at ${job?.name ?? jobId}`;
  };
  switch (wish.kind) {
    case "pin-crew":
      return `${taskName(wish.job, wish.task)} by ${crewName(wish.crew)}`;
    case "pin-day":
      return `${taskName(wish.job, wish.task)} on ${shortDate(wish.date, "en")}`;
    case "swap-crews":
      return `${crewName(wish.crews[0])} and ${crewName(wish.crews[1])} swap ${shortDate(wish.date, "en")}`;
    case "keep-crew":
      return `${crewName(wish.crew)} stays where it is`;
  }
}
