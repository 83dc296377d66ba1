/** `daylap replay N`: makes a kept plan again from what was kept with it, and says whether the same comes out. */
import { replayPlan } from "../services/replay.js";
import { refuse, type Command } from "./command.js";
import type { Words } from "./command-line.js";
import { findDatabasePlace, onDatabase } from "./database-place.js";
import { BROKEN, GOOD, type ExitCode, type Output } from "./output.js";

export const replayCommand: Command = {
  grammar: {
    command: "replay",
    values: { data: "FOLDER" },
    switches: ["json"],
    files: ["the number of a kept plan"],
  },
  usage: "daylap replay N [--json] [--data FOLDER]",
  summary: "make kept plan N again and say whether it is the same to the byte; --json prints it",
  run: runReplay,
};

async function runReplay(words: Words, output: Output): Promise<ExitCode> {
  const place = findDatabasePlace(words);
  const number = words.files[0] ?? "";
  if (!place.ok) return refuse(output, [place.error]);
  if (!/^\d{1,15}$/.test(number)) return refuse(output, [`"${number}" is no number of a plan.`]);
  return onDatabase(
    place.value,
    output,
    async (database) => {
      const replayed = await replayPlan(database, Number(number));
      if (!replayed.ok) return refuse(output, [replayed.error]);
      const { body, isEqual, isSamePlanner, kept } = replayed.value;
      if (words.switches.has("json")) output.out(`${body}\n`);
      else if (isEqual) output.out(`Plan ${number} came out the same, to the byte.\n`);
      else if (isSamePlanner)
        output.out(`Plan ${number} came out differently. This is a bug; please report it.\n`);
      else {
        output.out(
          `Plan ${number} came out differently: planner ${kept.plannerVersion} made it, and this is another one.\n`,
        );
      }
      return isEqual ? GOOD : BROKEN;
    },
    { mayShare: true },
  );
}
