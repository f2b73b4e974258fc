import { ProblemError } from "../problem-error.ts";

/** So many wrong passphrases for one person, or from one address, cost nothing but the time. */
const FREE_ATTEMPTS = { person: 5, address: 20 } as const;
/** The longest that one has to wait. */
const LONGEST_WAIT_ms = 15 * 60_000;
const FIRST_WAIT_ms = 30_000;
/** After so long without a wrong one, all is forgotten. */
const FORGOTTEN_ms = 3_600_000;

interface Failures {
  count: number;
  last: number;
}

/** Counts wrong passphrases, for each person and for each address: behind a few free ones the wait doubles with each. */
export class Attempts {
  readonly #now: () => number;
  readonly #failures = new Map<string, Failures>();

  /** @param now milliseconds of a clock */
  constructor(now: () => number) {
    this.#now = now;
  }

  /**
   * Lets a passphrase be tried, and counts it where it is wrong.
   *
   * @param work gives undefined where it is wrong
   * @throws ProblemError (`too-many`) where one has to wait first: the passphrase is then not looked at, right or wrong
   */
  async attempt<Result>(
    person: string,
    address: string,
    work: () => Promise<Result | undefined>,
  ): Promise<Result | undefined> {
    const counted = [
      [`person ${person}`, FREE_ATTEMPTS.person],
      [`address ${address}`, FREE_ATTEMPTS.address],
    ] as const;
    const wait = Math.max(...counted.map(([key, free]) => this.#wait(key, free)));
    if (wait > 0) throw tooMany(wait);
    // counted before it is known, so that many at once are as many as one after the other
    for (const [key] of counted) this.#fail(key);
    const result = await work();
    if (result === undefined) return undefined;
    this.#failures.delete(`person ${person}`);
    const own = this.#failures.get(`address ${address}`);
    if (own !== undefined) own.count--;
    return result;
  }

  #wait(key: string, free: number): number {
    const failures = this.#failures.get(key);
    if (failures === undefined || failures.count < free) return 0;
    const wait = Math.min(FIRST_WAIT_ms * 2 ** Math.min(failures.count - free, 20), LONGEST_WAIT_ms);
    return Math.max(0, failures.last + wait - this.#now());
  }

  #fail(key: string) {
    const now = this.#now();
    for (const [other, { last }] of this.#failures) if (now - last > FORGOTTEN_ms) this.#failures.delete(other);
    const failures = this.#failures.get(key);
    this.#failures.set(key, { count: (failures?.count ?? 0) + 1, last: now });
  }
}

function tooMany(wait_ms: number): ProblemError {
  const wait_s = Math.ceil(wait_ms / 1000);
  return new ProblemError(
    "too-many",
    "The passphrase was wrong too often.",
    `Wait ${wait_s < 90 ? `${wait_s} seconds` : `${Math.ceil(wait_s / 60)} minutes`}, then try again.`,
    { wait_s },
  );
}
