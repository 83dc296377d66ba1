/**
 * A request that was understood and is not answered as asked: its status and a sentence for the person.
 * Thrown by a route, worded by the error page; never used for a bug.
 */
export class HttpRefusal extends Error {
  readonly status: RefusalStatus;

  constructor(status: RefusalStatus, sentence: string) {
    super(sentence);
    this.status = status;
  }
}

type RefusalStatus = 403 | 404 | 405 | 409 | 503;
