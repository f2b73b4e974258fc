import type { Archive } from "@alcedo-dosimetry/archive";
import { VERSION } from "@alcedo-dosimetry/campaign";
import cookie from "@fastify/cookie";
import helmet from "@fastify/helmet";
import rateLimit from "@fastify/rate-limit";
import fastify, { type FastifyInstance, type FastifyServerOptions } from "fastify";
import { FibreOverview } from "./fibre-overview.ts";
import { gracefulClose } from "./graceful-close.ts";
import { campaignHandlers } from "./handlers/campaigns.ts";
import { changeHandlers } from "./handlers/changes.ts";
import { evaluationHandlers } from "./handlers/evaluation.ts";
import { fibreHandlers } from "./handlers/fibres.ts";
import { peopleHandlers } from "./handlers/people.ts";
import { signingHandlers } from "./handlers/signing.ts";
import { watchingHandlers } from "./handlers/watching.ts";
import type { Work } from "./jobs/threads.ts";
import { LiveEvents } from "./live-events.ts";
import { servePage } from "./page-files.ts";
import type { People } from "./people.ts";
import { ProblemError, problemOf } from "./problem-error.ts";
import { registerRoutes, sendProblem } from "./register-routes.ts";
import { Attempts } from "./security/attempts.ts";
import { securityHeaders } from "./security/headers.ts";
import { requireKnownHost } from "./security/hosts.ts";
import type { Links } from "./security/links.ts";
import { Logins } from "./security/logins.ts";
import { requireSameOrigin } from "./security/same-origin.ts";

/** Requests that one address may make in a minute; typing and reading stay far below. */
const MOST_A_MINUTE = 6000;

/** What a server is made of. */
export interface ServerOptions {
  readonly archive: Archive;
  readonly people: People;
  readonly work: Work;
  readonly links: Links;
  /** The built page; absent, there is the API alone. */
  readonly page?: string;
  /** Milliseconds since 1970. */
  readonly now: () => number;
  /** What the header Host may name, without port. */
  readonly hosts: readonly string[];
  /** Key and certificate, where the server speaks HTTPS itself. */
  readonly tls?: { readonly key: Uint8Array; readonly cert: Uint8Array };
  /** The address of the proxy that speaks HTTPS in front of it. */
  readonly proxy?: string;
  /** Whether all in the archive is invented. */
  readonly simulated?: boolean;
  /** Hears of faults of the program. */
  readonly fault: (error: unknown, request: string) => void;
  /** Whether answers are checked against their schemas. */
  readonly checkAnswers?: boolean;
}

/** The server, not yet listening. */
export interface WorkbenchServer {
  readonly http: FastifyInstance;
  readonly live: LiveEvents;
  /** Lets what is under way end, then closes; the archive stays open. */
  readonly close: () => Promise<void>;
}

/** Makes the workbench's server. */
export async function createServer(options: ServerOptions): Promise<WorkbenchServer> {
  const { archive, people, work, links, now, hosts, tls, proxy, simulated = false, fault } = options;
  const secure = tls !== undefined || proxy !== undefined;
  const world = {
    ...{ archive, people, work, links, now, secure, simulated, version: VERSION },
    ...{ logins: new Logins(now), attempts: new Attempts(now), live: new LiveEvents() },
  };
  const settings: FastifyServerOptions = {
    ...{ trustProxy: proxy ?? false, logger: false, bodyLimit: 1 << 18 },
    ...{ requestTimeout: 120_000, keepAliveTimeout: 15_000, forceCloseConnections: "idle" as const },
    ...{ return503OnClosing: true, routerOptions: { maxParamLength: 200 } },
  };
  const http = fastify({
    ...settings,
    ...(tls && { https: { key: Buffer.from(tls.key), cert: Buffer.from(tls.cert) } }),
  }) as unknown as FastifyInstance;

  http.setErrorHandler((error, request, reply) => {
    const problem = problemOf(error);
    if (problem !== undefined) return sendProblem(reply, problem);
    fault(error, `${request.method} ${request.routeOptions.url ?? "unknown"}`);
    return sendProblem(reply, programFault());
  });
  const closing = gracefulClose(http);
  await http.register(helmet, securityHeaders(secure));
  http.addHook("onRequest", (request, _reply, next) => {
    const { method, headers } = request;
    const { host, origin } = headers;
    requireKnownHost(host, hosts);
    if (request.url.startsWith("/api") || method !== "GET")
      requireSameOrigin({ method, host, origin, site: headers["sec-fetch-site"] });
    next();
  });
  await http.register(cookie);
  await http.register(rateLimit, {
    ...{ global: true, max: MOST_A_MINUTE, timeWindow: 60_000 },
    errorResponseBuilder: (_request, { ttl }) => tooManyRequests(Math.ceil(ttl / 1000)),
  });
  http.addContentTypeParser("application/octet-stream", { parseAs: "buffer" }, (_request, body, done) =>
    done(null, body),
  );
  http.removeContentTypeParser("text/plain");
  let stopping = false;
  const overview = new FibreOverview(archive);
  // looked at before somebody opens the home page: the first look at many campaigns takes seconds
  http.addHook("onListen", (done) => {
    overview.fibres(now()).catch((error: unknown) => {
      if (!stopping) fault(error, "the fibres at the start");
    });
    done();
  });
  const handlers = {
    ...peopleHandlers(world),
    ...campaignHandlers(world),
    ...changeHandlers(world),
    ...evaluationHandlers(world),
    ...fibreHandlers(world, overview),
    ...signingHandlers(world),
    ...watchingHandlers(world),
  };
  registerRoutes(http, world, handlers, { checkAnswers: options.checkAnswers ?? false });
  await servePage(http, options.page);
  return {
    http,
    live: world.live,
    async close() {
      stopping = true;
      world.logins.endAll();
      world.live.close();
      await closing();
      await work.close();
    },
  };
}

function programFault() {
  return new ProblemError(
    "program-fault",
    "A fault of the program, not of your data.",
    "What was acknowledged is kept. Please report what you did; the server's own output says more.",
  );
}

function tooManyRequests(wait_s: number) {
  return new ProblemError("too-many", "More was asked than anybody needs.", `Wait ${wait_s} seconds.`, { wait_s });
}
