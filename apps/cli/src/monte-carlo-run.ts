import { availableParallelism } from "node:os";
import {
  type BlockOrder,
  blockMaker,
  type Campaign,
  type Evaluation,
  type MonteCarloRequest,
  monteCarloSteps,
} from "@alcedo-dosimetry/campaign";
import type { Stream } from "./page.ts";
import { type StartWorker, WorkerPool } from "./worker-pool.ts";

/** How a run is made. */
export interface RunOptions extends MonteCarloRequest {
  /** Threads that share the work; as many as there are cores, eight at the most, unless given. */
  readonly threads?: number;
}

/** Below so many trials starting threads costs more than they save. */
const WORTH_THREADS = 50_000;

/** The most threads that are started unasked: beyond, memory is what they wait for. */
const MOST_THREADS = 8;

/**
 * Adds what Monte Carlo finds to an evaluation, on one thread or several: the same result to the bit. On a terminal a line
 * of progress stands on standard error while it takes.
 *
 * @param start how a thread is started; where it is absent all is done in this one.
 */
export async function monteCarloRun(
  campaign: Campaign,
  evaluation: Evaluation,
  { threads, ...request }: RunOptions,
  errors: Stream,
  start: StartWorker | undefined,
): Promise<Evaluation> {
  const few = request.trials !== "adaptive" && request.trials < WORTH_THREADS;
  const wanted = threads ?? (few ? 1 : Math.min(availableParallelism(), MOST_THREADS));
  const pool = start && wanted > 1 ? new WorkerPool(start, campaign, wanted) : undefined;
  const progress = new Progress(errors);
  try {
    const make = blockMaker(evaluation);
    const steps = monteCarloSteps(evaluation, request);
    let step = steps.next();
    while (!step.done) {
      const orders = step.value;
      progress.expect(orders, request.trials);
      const done = (order: BlockOrder) => progress.made(order);
      const blocks = pool
        ? await pool.make(orders, done)
        : orders.map((order) => {
            const own = make(order);
            done(order);
            return own;
          });
      step = steps.next(blocks);
    }
    return step.value;
  } finally {
    progress.clear();
    await pool?.close();
  }
}

/** `Monte Carlo 45 %` on one line of a terminal, written over and over; nothing where nobody looks. */
class Progress {
  readonly #stream: Stream;
  #made = 0;
  #expected = 0;
  #share = 0;
  #shown = "";

  constructor(stream: Stream) {
    this.#stream = stream;
  }

  expect(orders: readonly BlockOrder[], trials: number | "adaptive"): void {
    this.#expected = orders.reduce((total, { from, to }) => total + to - from, 0);
    // an adaptive run knows what it has done, not what is left
    this.#share = trials === "adaptive" ? 0 : 1;
    if (trials !== "adaptive") this.#made = 0;
  }

  made({ from, to }: BlockOrder): void {
    this.#made += to - from;
    this.#show(
      this.#share > 0 ? `${Math.floor((100 * this.#made) / this.#expected)} %` : `${this.#made} blocks of trials`,
    );
  }

  clear(): void {
    if (this.#shown !== "") this.#stream.write("\r\u001b[K");
    this.#shown = "";
  }

  #show(text: string): void {
    if (this.#stream.isTTY !== true || text === this.#shown) return;
    this.#shown = text;
    this.#stream.write(`\r\u001b[KMonte Carlo: ${text}`);
  }
}
