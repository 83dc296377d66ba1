/** What forbids a wish that the best plan with it does not keep. */
import type { WayOut } from "./way-out.js";
import type { Wish } from "./wishes.js";

export function whyNotKept(way: WayOut, wish: Wish): string {
  const { company } = way;
  const plan = way.explain();
  const sayEntry = (job: string, task: string): string => {
    const house = company.jobs.find(({ id }) => id === job);
    return `"${house?.tasks.find(({ id }) => id === task)?.title ?? task}" at ${house?.name ?? job}`;
  };
  if (wish.kind === "pin-day" || wish.kind === "pin-crew") {
    const impossible = plan.impossible.find(({ job, task }) => job === wish.job && task === wish.task);
    if (impossible) return `${sayEntry(wish.job, wish.task)} cannot be planned then. ${impossible.why}`;
    const entry = plan.tasks.find(({ job, task }) => job === wish.job && task === wish.task);
    return `${sayEntry(wish.job, wish.task)} cannot start then. ${entry?.because.text.en ?? ""}`.trim();
  }
  const crews = wish.kind === "swap-crews" ? wish.crews : [wish.crew];
  const names = crews.map((id) => company.crews.find((crew) => crew.id === id)?.name ?? id);
  const [impossible] = plan.impossible;
  return wish.kind === "swap-crews"
    ? `${names.join(" and ")} cannot change places: ${impossible ? `${sayEntry(impossible.job, impossible.task)} could not be planned. ${impossible.why}` : "one of the tasks cannot be planned with the other crew."}`
    : `${names.join("")} cannot stay: what it has begun, or one of its tasks there that cannot be planned, comes in between.`;
}
