/**
 * The planning thread, except that it dies before it hands over some plans: by leaving (seed 13), or by an error that
 * nobody catches (seed 14).
 */
import { parentPort } from "node:worker_threads";
import "../../dist/services/planning-thread.js";

const post = parentPort.postMessage.bind(parentPort);

parentPort.postMessage = (message) => {
  const seed = message.kind === "done" ? JSON.parse(message.planText).seed : undefined;
  if (seed === 13) process.exit(7);
  else if (seed === 14) {
    process.nextTick(() => {
      throw new RangeError("out of paper");
    });
  } else post(message);
};
