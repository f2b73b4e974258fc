import type { FastifyInstance } from "fastify";

/** A stop waits so long for answers that are under way. */
const LAST_ANSWERS_ms = 10_000;

/**
 * Watches what is under way, so that the server can stop without cutting an answer off: it takes no new connections, and
 * ends those that are open as soon as nobody waits for an answer. (A browser keeps connections in reserve that never asked
 * anything: they are no reason to wait.)
 *
 * @returns stops the server
 */
export function gracefulClose(http: FastifyInstance): () => Promise<void> {
  let underWay = 0;
  let closing = false;
  const endIfIdle = () => {
    if (closing && underWay === 0) http.server.closeAllConnections();
  };
  http.addHook("onRequest", (_request, reply, next) => {
    underWay++;
    reply.raw.once("close", () => {
      underWay--;
      endIfIdle();
    });
    next();
  });
  return async () => {
    closing = true;
    const closed = http.close();
    const force = setTimeout(() => http.server.closeAllConnections(), LAST_ANSWERS_ms);
    const sweep = setInterval(endIfIdle, 50);
    await closed;
    clearInterval(sweep);
    clearTimeout(force);
  };
}
