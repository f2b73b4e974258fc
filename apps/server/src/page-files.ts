import { existsSync } from "node:fs";
import { join } from "node:path";
import fastifyStatic from "@fastify/static";
import type { FastifyInstance } from "fastify";
import { ProblemError } from "./problem-error.ts";
import { sendProblem } from "./register-routes.ts";

const NOT_BUILT = "The page is not built yet: run `npm run build` in Alcedo's folder, then open this address again.\n";

/**
 * Serves the page: its files, and for every other address its first one, for the page finds its own ways. What is under
 * `/api` or `/assets` and not there is not there.
 *
 * @param folder with `index.html` and `assets/`, whose names change with their content
 */
export async function servePage(server: FastifyInstance, folder: string | undefined): Promise<void> {
  const built = folder !== undefined && existsSync(join(folder, "index.html"));
  if (built) {
    await server.register(fastifyStatic, {
      root: folder,
      wildcard: false, // a route for each file that is there: nothing else is looked for
      index: "index.html",
      dotfiles: "ignore",
      redirect: false,
      cacheControl: false,
      setHeaders(reply, path) {
        const forEver = path.startsWith(join(folder, "assets"));
        reply.header("cache-control", forEver ? "public, max-age=31536000, immutable" : "no-cache");
      },
    });
  }
  server.setNotFoundHandler((request, reply) => {
    const { pathname } = new URL(request.url, "http://here");
    const page = request.method === "GET" && !/^\/(?:api|assets)(?:\/|$)/.test(pathname);
    if (page && built) return reply.header("cache-control", "no-cache").sendFile("index.html");
    if (page) return reply.code(503).type("text/plain; charset=utf-8").send(NOT_BUILT);
    return sendProblem(
      reply,
      new ProblemError(
        "no-such-route",
        "There is nothing at this address.",
        "See /api/openapi.json for what there is.",
      ),
    );
  });
}
