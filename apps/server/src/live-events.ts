import { PassThrough, type Readable } from "node:stream";
import type { LiveEvent } from "@alcedo-dosimetry/protocol";

/** How often a page that listens hears that the server is there. */
const HEARTBEAT_ms = 20_000;
/** A page that reads so slowly that this much waits for it is let go; it comes back and asks anew. */
const WAITING_LIMIT = 1 << 20;

/** The pages that listen to changes. */
export class LiveEvents {
  readonly #listeners = new Set<PassThrough>();
  #number = 0;
  #heartbeat: NodeJS.Timeout | undefined;

  /** How many pages listen. */
  get size(): number {
    return this.#listeners.size;
  }

  /**
   * A stream of server-sent events from now on (HTML, "Server-sent events").
   *
   * @param ended ends it
   */
  listen(ended: AbortSignal): Readable {
    const stream = new PassThrough();
    stream.write("retry: 1000\n: listening\n\n");
    this.#listeners.add(stream);
    const stop = () => stream.end();
    ended.addEventListener("abort", stop, { once: true });
    stream.once("close", () => {
      ended.removeEventListener("abort", stop);
      this.#listeners.delete(stream);
      if (this.#listeners.size === 0) this.#stopBeating();
    });
    this.#heartbeat ??= setInterval(() => this.#send(": beat\n\n"), HEARTBEAT_ms).unref();
    return stream;
  }

  /** Tells every page that listens. */
  tell(event: LiveEvent): void {
    this.#number++;
    this.#send(`id: ${this.#number}\ndata: ${JSON.stringify(event)}\n\n`);
  }

  /** Ends all streams. */
  close(): void {
    for (const stream of this.#listeners) stream.end();
    this.#stopBeating();
  }

  #send(text: string) {
    for (const stream of this.#listeners) {
      stream.write(text);
      if (stream.writableLength + stream.readableLength > WAITING_LIMIT) stream.destroy();
    }
  }

  #stopBeating() {
    clearInterval(this.#heartbeat);
    this.#heartbeat = undefined;
  }
}
