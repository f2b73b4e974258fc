import type { Person } from "@alcedo-dosimetry/protocol";
import { newToken, tokenDigest } from "./token.ts";

/** After so long without a request a login ends. */
export const IDLE_END_ms = 8 * 3_600_000;
/** A login ends after so long, however busy it is. */
export const LONGEST_ms = 7 * 24 * 3_600_000;

/** Somebody who is logged in, in one browser. */
export interface Login {
  readonly person: Person;
  /** Aborted when it ends: whatever is still open for it is closed. */
  readonly ended: AbortSignal;
}

interface Remembered extends Login {
  readonly since: number;
  readonly end: AbortController;
  last: number;
}

/** Who is logged in. Kept in memory alone: a server that starts anew knows nobody. */
export class Logins {
  readonly #now: () => number;
  readonly #open = new Map<string, Remembered>();

  /** @param now milliseconds of a clock */
  constructor(now: () => number) {
    this.#now = now;
  }

  /** How many there are. */
  get size(): number {
    return this.#open.size;
  }

  /** Begins a login; gives what the browser is to bring with each request. */
  begin(person: Person): string {
    this.#endIdle();
    const token = newToken();
    const now = this.#now();
    const end = new AbortController();
    this.#open.set(tokenDigest(token), { person, since: now, last: now, end, ended: end.signal });
    return token;
  }

  /** The login of a token, which goes on with it; undefined where there is none any more. */
  find(token: string | undefined): Login | undefined {
    if (token === undefined) return undefined;
    const key = tokenDigest(token);
    const login = this.#open.get(key);
    if (login === undefined) return undefined;
    if (this.#isOver(login)) {
      this.#end(key, login);
      return undefined;
    }
    login.last = this.#now();
    return login;
  }

  /** Ends a login. */
  end(token: string | undefined): void {
    const key = tokenDigest(token ?? "");
    const login = this.#open.get(key);
    if (login !== undefined) this.#end(key, login);
  }

  /** Ends all: the server stops. */
  endAll(): void {
    for (const [key, login] of this.#open) this.#end(key, login);
  }

  #endIdle() {
    for (const [key, login] of this.#open) if (this.#isOver(login)) this.#end(key, login);
  }

  #isOver({ since, last }: Remembered): boolean {
    const now = this.#now();
    return now - last > IDLE_END_ms || now - since > LONGEST_ms;
  }

  #end(key: string, { end }: Remembered) {
    this.#open.delete(key);
    end.abort();
  }
}
