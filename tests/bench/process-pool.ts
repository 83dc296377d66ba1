/**
 * Processes of their own that answer one message at a time: one core each, and nothing that one instance leaves behind
 * in memory slows the others' process. A process that dies is a failed answer, and is replaced.
 */
import { fork, type ChildProcess } from "node:child_process";
import { once } from "node:events";

/** Sends each message to a process running `script`; answers in the order of the messages. */
export async function askProcesses<Message extends object, Answer>(
  script: string,
  count: number,
  messages: readonly Message[],
  toAnswer: (reply: unknown) => Answer,
  onDeath: (message: Message, why: string) => Answer,
): Promise<readonly Answer[]> {
  const answers: Answer[] = [];
  const queue = [...messages.entries()];
  const work = async (): Promise<void> => {
    let child: ChildProcess | undefined;
    for (let next = queue.shift(); next !== undefined; next = queue.shift()) {
      const [index, message] = next;
      child ??= fork(script, { execArgv: ["--enable-source-maps"] });
      const reply = await ask(child, message);
      if (reply.kind === "answer") answers[index] = toAnswer(reply.value);
      else {
        answers[index] = onDeath(message, reply.why);
        child = undefined;
      }
    }
    child?.disconnect();
  };
  await Promise.all(Array.from({ length: Math.min(count, messages.length) }, work));
  return answers;
}

type Reply =
  { readonly kind: "answer"; readonly value: unknown } | { readonly kind: "death"; readonly why: string };

async function ask(child: ChildProcess, message: object): Promise<Reply> {
  const given = new AbortController();
  const options = { signal: given.signal };
  const answer = once(child, "message", options).then(([value]): Reply => ({ kind: "answer", value }));
  const death = once(child, "exit", options).then(([code, signal]): Reply => ({
    kind: "death",
    why: `its process ended with ${code ?? signal}`,
  }));
  const abandoned = (): Reply => ({ kind: "death", why: "it was no longer asked" });
  child.send(message);
  const reply = await Promise.race([answer, death]);
  // The other of the two is no longer waited for.
  given.abort();
  await Promise.allSettled([answer.catch(abandoned), death.catch(abandoned)]);
  return reply;
}
