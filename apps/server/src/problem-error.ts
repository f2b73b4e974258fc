import { ArchiveError, type ArchiveFault } from "@alcedo-dosimetry/archive";
import { EditError } from "@alcedo-dosimetry/campaign";
import { PROBLEMS, type Problem, type ProblemKind } from "@alcedo-dosimetry/protocol";
import type { ZodError } from "zod";

/** What a problem may say beside what is wrong and what to do. */
type More = Partial<Pick<Problem, "revision" | "places" | "faults" | "findings" | "wait_s">>;

/** Something that cannot be done, in words, with the way out: becomes the answer. */
export class ProblemError extends Error {
  override readonly name = "ProblemError";
  readonly kind: ProblemKind;
  readonly remedy: string;
  readonly more: More;

  constructor(kind: ProblemKind, detail: string, remedy: string, more: More = {}) {
    super(detail);
    this.kind = kind;
    this.remedy = remedy;
    this.more = more;
  }

  /** The answer's body, as RFC 9457 has it. */
  toProblem(): Problem {
    const { kind, message: detail, remedy, more } = this;
    return { type: `urn:alcedo:problem:${kind}`, title: TITLES[kind], status: PROBLEMS[kind], detail, remedy, ...more };
  }
}

const TITLES: Readonly<Record<ProblemKind, string>> = {
  "not-logged-in": "Nobody is logged in",
  "wrong-passphrase": "The name or the passphrase is wrong",
  "link-spent": "This link is not good any more",
  "not-allowed": "This is not for this person to do",
  "cross-site": "The request comes from another page",
  "wrong-host": "This server is not called so",
  unknown: "There is no such thing",
  "no-such-route": "There is nothing at this address",
  conflict: "Somebody else has changed it meanwhile",
  exists: "It is there already",
  "key-reused": "This change was made already, and was another one",
  "too-large": "Too much was sent",
  "wrong-content-type": "The content is of a kind that is not taken here",
  invalid: "What was sent does not fit",
  "cannot-evaluate": "This cannot be evaluated",
  "too-many": "Too many requests",
  "not-a-request": "This is no request that the server understands",
  "program-fault": "A fault of the program",
  "cannot-store": "It could not be stored",
  unavailable: "Not now",
};

const OF_ARCHIVE: Readonly<Record<ArchiveFault, ProblemKind>> = {
  "in-use": "unavailable",
  "network-share": "cannot-store",
  "not-an-archive": "cannot-store",
  damaged: "cannot-store",
  newer: "cannot-store",
  missing: "cannot-store",
  full: "cannot-store",
  "read-only": "cannot-store",
  disk: "cannot-store",
  unknown: "unknown",
  conflict: "conflict",
  exists: "exists",
  invalid: "invalid",
  "append-only": "program-fault",
  "backup-failed": "cannot-store",
  "key-reused": "key-reused",
  "not-allowed": "not-allowed",
  "wrong-passphrase": "wrong-passphrase",
};

/**
 * What an error means for whoever asked.
 *
 * @returns undefined for a fault of the program itself, of which nobody outside is told anything
 */
export function problemOf(error: unknown): ProblemError | undefined {
  if (error instanceof ProblemError) return error;
  if (error instanceof ArchiveError) {
    const kind = OF_ARCHIVE[error.fault];
    const { revision, places } = error;
    const more = { ...(revision !== undefined && { revision }), ...(places && { places: [...places] }) };
    return new ProblemError(kind, withoutRemedy(error.message, error.remedy), error.remedy, more);
  }
  if (error instanceof EditError)
    return new ProblemError("invalid", withoutRemedy(error.message, error.remedy), error.remedy);
  return ofHttp(error);
}

/** What does not fit a schema, each with its place. */
export function problemOfFaults(what: string, { issues }: ZodError): ProblemError {
  const faults = issues.slice(0, 20).map(({ path, message }) => ({ at: path.map(String).join("."), says: message }));
  const [first] = faults;
  const place = first === undefined || first.at === "" ? "" : `${first.at}: `;
  const more = issues.length > 1 ? ` (and ${issues.length - 1} more)` : "";
  return new ProblemError(
    "invalid",
    `The ${what} does not fit: ${place}${first?.says ?? "it is refused"}${more}.`,
    "Send what /api/openapi.json describes.",
    { faults },
  );
}

function withoutRemedy(message: string, remedy: string): string {
  return message.endsWith(` ${remedy}`) ? message.slice(0, -remedy.length - 1) : message;
}

/** What the HTTP library refuses before a request reaches anybody. */
function ofHttp(error: unknown): ProblemError | undefined {
  if (!(error instanceof Error) || !("statusCode" in error) || typeof error.statusCode !== "number") return undefined;
  const status = error.statusCode;
  if (status === 413)
    return new ProblemError("too-large", "More was sent than is taken here.", "Send it in smaller parts.");
  if (status === 415)
    return new ProblemError("wrong-content-type", "The content has another kind.", "Send JSON, as application/json.");
  if (status >= 400 && status < 500)
    return new ProblemError("not-a-request", "The request cannot be read.", "Send what /api/openapi.json describes.");
  return undefined;
}
