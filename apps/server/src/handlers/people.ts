import { openApi, type Person } from "@alcedo-dosimetry/protocol";
import type { FastifyReply, FastifyRequest } from "fastify";
import type { Handlers } from "../asked.ts";
import { ProblemError } from "../problem-error.ts";
import type { World } from "../world.ts";

/** The name of the cookie that holds a login. */
export const COOKIE = "alcedo";

/** Who is here: logging in and out, and inviting others. */
export function peopleHandlers(
  world: World,
): Handlers<"openapi" | "me" | "first" | "login" | "logout" | "people" | "invite"> {
  const { people, logins, links, attempts, live, simulated, secure } = world;
  const description = openApi(world.version);
  const me = (person: Person) => ({ person, ...(simulated && { simulated }) });
  const begin = (person: Person, request: FastifyRequest, reply: FastifyReply) => {
    logins.end(request.cookies[COOKIE]); // whoever was logged in here before is not any more
    reply.setCookie(COOKIE, logins.begin(person), { path: "/", httpOnly: true, sameSite: "strict", secure });
    return me(person);
  };
  return {
    openapi: () => description,
    me: ({ login }) => me(login.person),
    async first({ body: { token, passphrase, ...person }, request, reply }) {
      await links.spend(token, person.id, async () => people.add(person, passphrase));
      live.tell({ people: person });
      return begin(person, request, reply);
    },
    async login({ body: { id, passphrase }, request, reply }) {
      const person = await attempts.attempt(id, request.ip, async () => people.check(id, passphrase));
      if (person === undefined) throw wrongPassphrase();
      return begin(person, request, reply);
    },
    logout({ request, reply }) {
      logins.end(request.cookies[COOKIE]);
      reply.clearCookie(COOKIE, { path: "/" });
      return undefined;
    },
    people: async () => people.all(),
    async invite({ body: person, request }) {
      const all = await people.all();
      if (all.some(({ id }) => id === person.id)) {
        throw new ProblemError("exists", `There is a person ${person.id} already.`, "Choose another id.");
      }
      const { token, until } = links.create(person);
      return { link: `${request.protocol}://${request.host}/#/first/${token}`, until: new Date(until).toISOString() };
    },
  };
}

/** What is said to a wrong passphrase, and to a person who is not there, alike. */
export function wrongPassphrase(): ProblemError {
  return new ProblemError("wrong-passphrase", "The id or the passphrase is wrong.", "Try again, letter by letter.");
}
