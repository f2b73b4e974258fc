import type { Worker } from "node:worker_threads";
import type { BlockOrder, Campaign } from "@alcedo-dosimetry/campaign";
import type { TrialBlocks } from "@alcedo-dosimetry/metrology";

/** Starts a thread that makes blocks of trials of a campaign. */
export type StartWorker = (campaign: Campaign) => Worker;

/**
 * Threads that make blocks of trials, kept for all orders of a run. Whoever makes a block, it is the same to the bit, and
 * what comes back is put in the order of the orders: one thread and many give one result.
 */
export class WorkerPool {
  readonly #workers: readonly Worker[];

  constructor(start: StartWorker, campaign: Campaign, threads: number) {
    this.#workers = Array.from({ length: threads }, () => start(campaign));
  }

  /**
   * Has all orders made.
   * @param done is told after each.
   * @throws the error of a thread that fails.
   */
  make(orders: readonly BlockOrder[], done: (order: BlockOrder) => void): Promise<readonly TrialBlocks[]> {
    const made = new Array<TrialBlocks>(orders.length);
    let [next, left] = [0, orders.length];
    return new Promise((resolve, reject) => {
      if (left === 0) resolve(made);
      for (const worker of this.#workers) {
        const feed = () => {
          if (next < orders.length) worker.postMessage({ number: next, order: orders[next++] });
        };
        worker.removeAllListeners();
        worker.on("error", reject);
        worker.on("exit", (code) => {
          if (left > 0) reject(new Error(`a thread ended with ${code} before its work was done`));
        });
        worker.on("message", ({ number, blocks }: { readonly number: number; readonly blocks: TrialBlocks }) => {
          made[number] = blocks;
          done(orders[number]!);
          left--;
          if (left === 0) resolve(made);
          else feed();
        });
        feed();
      }
    });
  }

  /** Ends the threads. */
  async close(): Promise<void> {
    await Promise.all(
      this.#workers.map((worker) => {
        worker.removeAllListeners();
        // one thread's fault has been told; that of another would be nobody's
        worker.on("error", () => undefined);
        return worker.terminate();
      }),
    );
  }
}
