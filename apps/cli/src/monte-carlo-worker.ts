import { parentPort, workerData } from "node:worker_threads";
import { type BlockOrder, blockMaker, type Campaign, evaluate } from "@alcedo-dosimetry/campaign";

/** A thread of its own that makes blocks of trials: it evaluates the campaign once, and answers each order with its blocks. */
const make = blockMaker(evaluate(workerData as Campaign));

parentPort!.on("message", ({ number, order }: { readonly number: number; readonly order: BlockOrder }) => {
  const blocks = make(order);
  parentPort!.postMessage(
    { number, blocks },
    blocks.values.map(({ buffer }) => buffer as ArrayBuffer),
  );
});
