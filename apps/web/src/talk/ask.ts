import {
  type AnswerOf,
  type BodyOf,
  type Problem,
  problemSchema,
  ROUTES,
  type Route,
  type RouteName,
} from "@alcedo-dosimetry/protocol";

/** What goes with a question: the campaign's id, words behind the question mark, and the body. */
export interface Given<Name extends RouteName> {
  readonly id?: string;
  readonly query?: Readonly<Record<string, string | number | undefined>>;
  readonly body?: BodyOf<Name>;
  /** A file in place of a JSON body. */
  readonly bytes?: Uint8Array<ArrayBuffer>;
  readonly signal?: AbortSignal;
}

/** The server's "no", with what to do about it. */
export class ProblemError extends Error {
  override readonly name = "ProblemError";
  readonly problem: Problem;

  constructor(problem: Problem) {
    super(`${problem.detail} ${problem.remedy}`);
    this.problem = problem;
  }
}

/** No answer came: the server is down, or the way to it. */
export class UnreachableError extends Error {
  override readonly name = "UnreachableError";

  constructor(cause?: unknown) {
    super("The server does not answer. Is it still running? Nothing that was typed is lost: it is sent again.", {
      cause,
    });
  }
}

/** Called when the server says that nobody is logged in (any more); the shell shows the login. */
let whenLoggedOut: () => void = () => undefined;

/** Sets what happens when the server says that nobody is logged in. */
export function onLoggedOut(then: () => void): void {
  whenLoggedOut = then;
}

/**
 * Asks the server one of the routes of the protocol.
 *
 * @throws ProblemError when it says no, UnreachableError when no answer comes
 */
export async function ask<Name extends RouteName>(name: Name, given: Given<Name> = {}): Promise<AnswerOf<Name>> {
  const response = await sent(name, given);
  if (response.status === 204) return undefined as AnswerOf<Name>;
  try {
    return (await response.json()) as AnswerOf<Name>;
  } catch (error) {
    throw new UnreachableError(error); // the answer broke off
  }
}

/** The address of a route that answers with a file: for links and frames. */
export function addressOf(name: RouteName, { id, query }: Pick<Given<RouteName>, "id" | "query"> = {}): string {
  const path = ROUTES[name].path.replace(":id", encodeURIComponent(id ?? ""));
  const words = Object.entries(query ?? {}).flatMap(([key, value]) =>
    value === undefined || value === "" ? [] : [[key, String(value)]],
  );
  return words.length === 0 ? path : `${path}?${new URLSearchParams(words).toString()}`;
}

async function sent<Name extends RouteName>(
  name: Name,
  { bytes, body, signal, ...place }: Given<Name>,
): Promise<Response> {
  const { method }: Route = ROUTES[name];
  const content =
    bytes !== undefined
      ? { body: bytes, headers: { "content-type": "application/octet-stream" } }
      : body !== undefined
        ? { body: JSON.stringify(body), headers: { "content-type": "application/json" } }
        : {};
  let response: Response;
  try {
    response = await fetch(addressOf(name, place), {
      method,
      credentials: "same-origin",
      ...content,
      ...(signal && { signal }),
    });
  } catch (error) {
    if (signal?.aborted) throw error;
    throw new UnreachableError(error);
  }
  if (response.ok) return response;
  throw await refusal(name, response);
}

async function refusal(name: RouteName, response: Response): Promise<Error> {
  const said = problemSchema.safeParse(await response.json().catch((error: unknown) => error));
  // something between page and server (a proxy that found nobody) does not speak the protocol
  if (!said.success) return new UnreachableError(`${response.status} ${response.statusText}`);
  if (said.data.type.endsWith(":not-logged-in") && name !== "me") whenLoggedOut();
  return new ProblemError(said.data);
}

/** An error in words for the page: what happened and what to do. */
export function errorWords(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
