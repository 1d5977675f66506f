import { Refusal } from '../words/refusal';

const reasons: Record<string, string> = {
  NotFoundError: 'there is no such file any more',
  NotAllowedError: 'the browser was not allowed to use it; allow it when it asks',
  SecurityError: 'the browser may not use it here',
  NoModificationAllowedError: 'another program or window holds it',
  InvalidStateError: 'another program or window holds it',
  InvalidModificationError: 'another program or window holds it',
  NotReadableError: 'it cannot be read, or it has changed while it was read',
  TypeMismatchError: 'it is a folder, not a file',
  QuotaExceededError: 'the disk, or the room that the browser grants, is full',
  UnknownError: 'the browser reports a fault of the disk or of its own store',
  DataError: 'the browser’s own store refuses it',
  TransactionInactiveError: 'the browser’s own store refuses it',
};

/** What is done; what the browser will not do is refused in words, which `name` leads. */
export async function orTrouble<T>(name: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    const reason = reasons[error.name] ?? `the browser refuses it (${error.name})`;
    throw new Refusal(`${name}: ${reason}`, { cause: error });
  }
}

/** What is found; null where the browser refuses it, which is then no matter. */
export async function unlessBrowserTrouble<T>(work: () => Promise<T>): Promise<T | null> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    return null;
  }
}
