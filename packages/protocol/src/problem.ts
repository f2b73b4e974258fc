import * as z from "zod";
import { findingSchema } from "./results.ts";

/** What went wrong, for programs; in a problem's `type` it stands behind `urn:alcedo:problem:`. */
export const PROBLEMS = {
  "not-logged-in": 401,
  "wrong-passphrase": 401,
  "link-spent": 401,
  "not-allowed": 403,
  "cross-site": 403,
  "wrong-host": 421,
  unknown: 404,
  "no-such-route": 404,
  conflict: 409,
  exists: 409,
  "key-reused": 409,
  "too-large": 413,
  "wrong-content-type": 415,
  invalid: 422,
  "cannot-evaluate": 422,
  "too-many": 429,
  "not-a-request": 400,
  "program-fault": 500,
  "cannot-store": 507,
  unavailable: 503,
} as const;

/** A kind of problem. */
export type ProblemKind = keyof typeof PROBLEMS;

/** A fault of what was sent: where (a path of keys with points between them), and what it must be. */
const faultSchema = z.strictObject({ at: z.string(), says: z.string() });

/** An error, as RFC 9457 has it, with what to do. */
export const problemSchema = z.strictObject({
  type: z.string().meta({ description: "urn:alcedo:problem:KIND" }),
  title: z.string(),
  status: z.int(),
  detail: z.string(),
  remedy: z.string(),
  /** Of a conflict: the campaign's latest revision. */
  revision: z.int().exactOptional(),
  /** Of a review: readings that were entered again and are not as they are kept; where, not what. */
  places: z.array(z.strictObject({ table: z.string(), reading: z.string(), column: z.string() })).exactOptional(),
  /** Of a request that does not fit its schema. */
  faults: z.array(faultSchema).exactOptional(),
  /** Of a file that is no campaign. */
  findings: z.array(findingSchema).exactOptional(),
  /** Of too many requests: seconds to wait. */
  wait_s: z.int().exactOptional(),
});

/** An error with what to do. */
export type Problem = z.infer<typeof problemSchema>;

/** The kind of a problem, out of its `type`; undefined for one that this version does not know. */
export function problemKind({ type }: Pick<Problem, "type">): ProblemKind | undefined {
  const kind = /^urn:alcedo:problem:(.+)$/.exec(type)?.[1];
  return kind !== undefined && Object.hasOwn(PROBLEMS, kind) ? (kind as ProblemKind) : undefined;
}
