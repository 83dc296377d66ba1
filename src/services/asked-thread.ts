/**
 * A thread that answers one question after another, in their order. It is started with the first question; one that dies
 * fails what it was asked, and the next question gets a new one.
 */
import { existsSync } from "node:fs";
import { parentPort, Worker } from "node:worker_threads";
import { present } from "../domain/result.js";

/** A question as it travels. */
interface Asked<Question> {
  readonly id: number;
  readonly question: Question;
}

type Answered<Answer> =
  { readonly id: number; readonly answer: Answer } | { readonly id: number; readonly error: unknown };

interface Waiting<Answer> {
  readonly resolve: (answer: Answer) => void;
  readonly reject: (error: unknown) => void;
}

/** A thread runs a built file: the one beside this file, or, where this one is run from src, the one in dist. */
export function threadFile(name: string): URL {
  const beside = new URL(`${name}.js`, import.meta.url);
  return existsSync(beside) ? beside : new URL(`../../dist/services/${name}.js`, import.meta.url);
}

export class AskedThread<Question, Answer> {
  #worker: Worker | undefined;
  #lastId = 0;
  readonly #waiting = new Map<number, Waiting<Answer>>();
  #isClosed = false;

  /** `what` it does, behind "The thread that was". */
  constructor(
    private readonly file: URL,
    private readonly what: string,
  ) {}

  /** Rejects where whoever answers has a bug or the thread has died. */
  ask(question: Question): Promise<Answer> {
    if (this.#isClosed) return Promise.reject(new Error("Planning has ended: the program is closing down."));
    this.#worker ??= this.#start();
    const worker = this.#worker;
    this.#lastId += 1;
    const id = this.#lastId;
    worker.ref();
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject });
      worker.postMessage({ id, question } satisfies Asked<Question>, []);
    });
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    await this.#worker?.terminate();
  }

  #start(): Worker {
    const worker = new Worker(this.file, { name: this.what });
    let failure: unknown;
    worker.on("message", (answered: Answered<Answer>) => {
      const waiting = this.#waiting.get(answered.id);
      this.#waiting.delete(answered.id);
      // An idle thread keeps no process alive.
      if (this.#waiting.size === 0) worker.unref();
      if ("error" in answered) waiting?.reject(answered.error);
      else waiting?.resolve(answered.answer);
    });
    worker.on("error", (error) => (failure = error));
    worker.on("exit", (code) => {
      if (this.#worker === worker) this.#worker = undefined;
      const why = failure instanceof Error ? failure.message : `it left with code ${code}`;
      const waiting = [...this.#waiting.values()];
      this.#waiting.clear();
      for (const { reject } of waiting) {
        reject(new Error(`The thread that was ${this.what} has ended: ${why}.`, { cause: failure }));
      }
    });
    worker.unref();
    return worker;
  }
}

/**
 * The other end: what a thread does with each question, which is of the kind that its `AskedThread` asks. It ends when it
 * is terminated.
 */
export function answerQuestions(answer: (question: never) => unknown): void {
  const port = present(parentPort, "the process that asks");
  // Only an `AskedThread` posts to the thread, and nothing but questions.
  port.on("message", ({ id, question }: Asked<never>) => {
    port.postMessage(tryAnswer(id, () => answer(question)));
  });
}

function tryAnswer(id: number, answer: () => unknown): Answered<unknown> {
  try {
    return { id, answer: answer() };
  } catch (error) {
    return { id, error };
  }
}
