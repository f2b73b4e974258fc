import { Readable } from "node:stream";
import { PROBLEMS, ROUTES, type Route, type RouteName } from "@alcedo-dosimetry/protocol";
import type { FastifyInstance, FastifyReply, FastifyRequest, RouteOptions } from "fastify";
import * as z from "zod";
import type { Asked, FileAnswer, Handlers } from "./asked.ts";
import { COOKIE } from "./handlers/people.ts";
import { ProblemError, problemOfFaults } from "./problem-error.ts";
import { DOCUMENT_POLICY } from "./security/headers.ts";
import type { Login } from "./security/logins.ts";
import type { World } from "./world.ts";

const MiB = 1 << 20;
/** The largest bodies that are taken; of the rest a small one is enough. */
const LIMITS: Partial<Record<RouteName, number>> = { importFile: 64 * MiB, keep: 32 * MiB, edit: 32 * MiB };
const LIMIT = MiB / 4;

/** These are asked by people who are not logged in, and cost the server work: few a minute for each address. */
const STRICT: Partial<Record<RouteName, number>> = { login: 30, first: 10 };

type AnyHandler = (asked: Asked<RouteName>) => unknown;

/** How routes are set up. */
export interface RegisterOptions {
  /** Whether answers are checked against their schemas too: in tests. */
  readonly checkAnswers: boolean;
}

/** Has every route of the protocol answered by its handler: login first, then what was sent, then the work. */
export function registerRoutes(
  server: FastifyInstance,
  world: World,
  handlers: Handlers,
  options: RegisterOptions,
): void {
  const logins = new WeakMap<FastifyRequest, Login>();
  for (const [name, route] of Object.entries(ROUTES) as [RouteName, Route][]) {
    const most = STRICT[name];
    const own: RouteOptions = {
      method: route.method,
      url: route.path,
      bodyLimit: LIMITS[name] ?? LIMIT,
      // before the body is read: who is not logged in sends nothing
      onRequest(request, _reply, next) {
        next(route.open === true ? undefined : notLoggedIn(world, request, logins));
      },
      async handler(request, reply) {
        const asked = {
          params: checked("address", route.params, request.params),
          query: checked("query", route.query ?? z.strictObject({}), request.query),
          body: bodyOf(route, request),
          login: logins.get(request),
          archive: { ...world.archive, who: logins.get(request)?.person.id ?? "" },
          gone: goneSignal(reply),
          ...{ request, reply },
        } as unknown as Asked<RouteName>;
        reply.header("cache-control", "no-store");
        return send(name, route, reply, await (handlers[name] as AnyHandler)(asked), options);
      },
    };
    if (most !== undefined) own.config = { rateLimit: { max: most, timeWindow: 60_000 } };
    server.route(own);
  }
}

function notLoggedIn(world: World, request: FastifyRequest, logins: WeakMap<FastifyRequest, Login>) {
  const login = world.logins.find(request.cookies[COOKIE]);
  if (login === undefined) {
    return new ProblemError("not-logged-in", "Nobody is logged in here, or the login has ended.", "Log in.");
  }
  logins.set(request, login);
  return undefined;
}

function bodyOf({ body }: Route, request: FastifyRequest): unknown {
  if (body === undefined) return undefined;
  if (body !== "bytes") {
    const { error } = body.safeParse(request.body);
    if (error !== undefined) throw problemOfFaults("request", error);
    // as it came: the order of keys in a campaign is part of it
    return request.body;
  }
  if (request.body instanceof Uint8Array) return new Uint8Array(request.body);
  throw new ProblemError("wrong-content-type", "A file was expected.", "Send its bytes as application/octet-stream.");
}

function checked(what: string, schema: z.ZodType | undefined, value: unknown): unknown {
  if (schema === undefined) return undefined;
  const { error, data } = schema.safeParse(value);
  if (error !== undefined) throw problemOfFaults(what, error);
  return data;
}

/** Aborted when the connection closes before the answer is out. */
function goneSignal(reply: FastifyReply): AbortSignal {
  const gone = new AbortController();
  reply.raw.once("close", () => {
    if (!reply.raw.writableFinished) gone.abort();
  });
  return gone.signal;
}

function send(
  name: RouteName,
  { answer }: Route,
  reply: FastifyReply,
  given: unknown,
  { checkAnswers }: RegisterOptions,
) {
  if (answer === undefined) return reply.code(204).send();
  if (given instanceof Readable) return reply.send(given);
  if (!(answer instanceof z.ZodType)) return sendFile(reply, given as FileAnswer);
  if (checkAnswers) {
    const { error } = answer.safeParse(JSON.parse(JSON.stringify(given)));
    if (error !== undefined) throw new Error(`the answer of ${name} does not fit its schema: ${error.message}`);
  }
  return reply.type("application/json; charset=utf-8").send(JSON.stringify(given));
}

function sendFile(reply: FastifyReply, { bytes, type, name, shown = false }: FileAnswer) {
  const file = name.replace(/[^A-Za-z0-9._-]/g, "_");
  return reply
    .header("content-disposition", `${shown ? "inline" : "attachment"}; filename="${file}"`)
    .header("content-security-policy", DOCUMENT_POLICY)
    .header("x-frame-options", "SAMEORIGIN")
    .type(type)
    .send(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength));
}

/** Sends a problem as the answer. */
export function sendProblem(reply: FastifyReply, problem: ProblemError) {
  const { wait_s } = problem.more;
  if (wait_s !== undefined) reply.header("retry-after", String(wait_s));
  return reply
    .code(PROBLEMS[problem.kind])
    .header("cache-control", "no-store")
    .type("application/problem+json")
    .send(JSON.stringify(problem.toProblem()));
}
