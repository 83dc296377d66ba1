#!/usr/bin/env node
/**
 * The command `daylap`. Ties the words and streams of this process to a command; everything else is in run-command.ts.
 */
import { runCommand } from "./run-command.js";
import { onInterrupt, statusOn } from "./terminal.js";

process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  // A reader that has seen enough (`daylap plan … | head`) is no failure.
  if (error.code === "EPIPE") process.exit();
  throw error;
});

process.exitCode = await runCommand(process.argv.slice(2), {
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
  onInterrupt,
  ...(process.stderr.isTTY && { status: statusOn(process.stderr) }),
});
