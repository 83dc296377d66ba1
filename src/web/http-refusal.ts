/**
 * A request that was understood and is not answered as asked: its status and a sentence for the person.
 * Thrown by a route, worded by the error page; never used for a bug.
 */
export class HttpRefusal extends Error {
  readonly status: RefusalStatus;
  /** The same sentence in Spanish, where crews or homeowners may read it; empty otherwise. */
  readonly spanish: string;

  constructor(status: RefusalStatus, sentence: string, spanish = "") {
    super(sentence);
    this.status = status;
    this.spanish = spanish;
  }
}

type RefusalStatus = 403 | 404 | 405 | 409 | 503;
