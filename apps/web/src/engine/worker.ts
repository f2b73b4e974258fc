import { createEngine } from "./engine.ts";
import type { Answer, Order } from "./orders.ts";

/** The part of a worker's global scope that is used here. */
interface Scope {
  postMessage(answer: Answer): void;
  onmessage: ((event: MessageEvent<Order>) => void) | null;
}

const scope = globalThis as unknown as Scope;
// a message to oneself comes behind those that wait already, and sooner than any timer
const { port1, port2 } = new MessageChannel();
const work: (() => void)[] = [];
port1.onmessage = () => {
  for (const own of work.splice(0)) own();
};

const engine = createEngine({
  post: (answer) => scope.postMessage(answer),
  later: (own) => {
    work.push(own);
    port2.postMessage(undefined);
  },
  now: () => performance.now(),
});
scope.onmessage = ({ data }) => engine.receive(data);
