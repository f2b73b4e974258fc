import * as z from "zod";
import { auditSchema } from "./audit.ts";
import {
  campaignIdSchema,
  campaignListSchema,
  historyEntrySchema,
  keepRequestSchema,
  keptSchema,
  listQuerySchema,
} from "./campaigns.ts";
import { editsRequestSchema, readingRequestSchema, revisedSchema, undoRequestSchema } from "./edits.ts";
import { fibreSchema } from "./fibres.ts";
import { documentQuerySchema, exportQuerySchema, importQuerySchema, revisionQuerySchema } from "./files.ts";
import { firstRequestSchema, invitationSchema, loginRequestSchema, meSchema, personSchema } from "./people.ts";
import {
  evaluationRequestSchema,
  evaluationSchema,
  importedSchema,
  monteCarloRequestSchema,
  recheckRowSchema,
  resultSchema,
} from "./results.ts";
import { reviewRequestSchema, reviewSampleSchema, signRequestSchema } from "./signatures.ts";

/** One thing that may be asked: method and path (`:id` stands for a value), what goes in and what comes out. */
export interface Route {
  readonly method: "GET" | "POST";
  readonly path: string;
  readonly summary: string;
  /** True for what is answered without a login. */
  readonly open?: true;
  readonly params?: z.ZodObject;
  readonly query?: z.ZodObject;
  /** The body, as JSON; `bytes` for a file. */
  readonly body?: z.ZodType | "bytes";
  /** The answer, as JSON; or the kinds of file, or of stream, that come. Nothing: 204. */
  readonly answer?: z.ZodType | readonly string[];
}

const params = z.strictObject({ id: campaignIdSchema });

/** Everything that the server answers under `/api`, by name. */
export const ROUTES = {
  openapi: {
    ...{ method: "GET", path: "/api/openapi.json", summary: "this description", open: true },
    answer: z.looseObject({}),
  },
  me: { method: "GET", path: "/api/me", summary: "who is logged in", answer: meSchema },
  first: {
    ...{ method: "POST", path: "/api/first", summary: "become a person by a one-time link, and log in", open: true },
    ...{ body: firstRequestSchema, answer: meSchema },
  },
  login: {
    ...{ method: "POST", path: "/api/login", summary: "log in", open: true },
    ...{ body: loginRequestSchema, answer: meSchema },
  },
  logout: { method: "POST", path: "/api/logout", summary: "log out" },
  people: { method: "GET", path: "/api/people", summary: "who works here", answer: z.array(personSchema) },
  invite: {
    ...{ method: "POST", path: "/api/people", summary: "invite a person: a link, shown once" },
    ...{ body: personSchema, answer: invitationSchema },
  },
  fibres: { method: "GET", path: "/api/fibres", summary: "the fibres", answer: z.array(fibreSchema) },
  campaigns: {
    ...{ method: "GET", path: "/api/campaigns", summary: "campaigns, the last changed first" },
    ...{ query: listQuerySchema, answer: campaignListSchema },
  },
  keep: {
    ...{ method: "POST", path: "/api/campaigns", summary: "keep a new campaign" },
    ...{ body: keepRequestSchema, answer: keptSchema },
  },
  importFile: {
    ...{ method: "POST", path: "/api/campaigns/import", summary: "keep a campaign out of a zip file or a workbook" },
    ...{ query: importQuerySchema, body: "bytes", answer: importedSchema },
  },
  campaign: {
    ...{ method: "GET", path: "/api/campaigns/:id", summary: "a campaign, as it is or as a revision left it" },
    ...{ params, query: revisionQuerySchema, answer: keptSchema },
  },
  edit: {
    ...{ method: "POST", path: "/api/campaigns/:id/edits", summary: "change a campaign" },
    ...{ params, body: editsRequestSchema, answer: revisedSchema },
  },
  addReading: {
    ...{ method: "POST", path: "/api/campaigns/:id/readings", summary: "add a reading at the end of a table" },
    ...{ params, body: readingRequestSchema, answer: revisedSchema },
  },
  undo: {
    ...{ method: "POST", path: "/api/campaigns/:id/undo", summary: "take the latest change back, as a new revision" },
    ...{ params, body: undoRequestSchema, answer: keptSchema },
  },
  history: {
    ...{ method: "GET", path: "/api/campaigns/:id/history", summary: "the revisions of a campaign, first to last" },
    ...{ params, answer: z.array(historyEntrySchema) },
  },
  evaluate: {
    ...{ method: "POST", path: "/api/campaigns/:id/evaluation", summary: "evaluate a campaign, and keep the result" },
    ...{ params, body: evaluationRequestSchema, answer: evaluationSchema },
  },
  recheck: {
    ...{ method: "GET", path: "/api/campaigns/:id/recheck", summary: "every number by a second, independent route" },
    ...{ params, answer: z.array(recheckRowSchema) },
  },
  monteCarlo: {
    ...{ method: "POST", path: "/api/campaigns/:id/monte-carlo", summary: "propagate the distributions themselves" },
    ...{ params, body: monteCarloRequestSchema, answer: resultSchema },
  },
  document: {
    ...{ method: "GET", path: "/api/campaigns/:id/document", summary: "a document to sign" },
    ...{ params, query: documentQuerySchema, answer: ["application/pdf", "text/html"] },
  },
  exportFile: {
    ...{ method: "GET", path: "/api/campaigns/:id/export", summary: "a campaign as a file, to be taken in elsewhere" },
    ...{ params, query: exportQuerySchema },
    answer: ["application/zip", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"],
  },
  reviewSample: {
    ...{ method: "GET", path: "/api/campaigns/:id/review", summary: "the readings that a reviewer types from paper" },
    ...{ params, answer: reviewSampleSchema },
  },
  sign: {
    ...{ method: "POST", path: "/api/campaigns/:id/sign", summary: "sign as the one who measured" },
    ...{ params, body: signRequestSchema, answer: keptSchema },
  },
  review: {
    ...{ method: "POST", path: "/api/campaigns/:id/review", summary: "agree as a second person, or return" },
    ...{ params, body: reviewRequestSchema, answer: keptSchema },
  },
  audit: { method: "GET", path: "/api/audit", summary: "was anything altered?", answer: auditSchema },
  events: {
    ...{ method: "GET", path: "/api/events", summary: "changes as they happen (server-sent events)" },
    answer: ["text/event-stream"],
  },
} as const satisfies Readonly<Record<string, Route>>;

/** The name of something that may be asked. */
export type RouteName = keyof typeof ROUTES;

/** What a route takes as its JSON body, as whoever asks writes it; never for one that takes none. */
export type BodyOf<Name extends RouteName> = (typeof ROUTES)[Name] extends { body: infer Body extends z.ZodType }
  ? z.input<Body>
  : never;

/** What a route answers as JSON; never for one that answers with a file, a stream or nothing. */
export type AnswerOf<Name extends RouteName> = (typeof ROUTES)[Name] extends { answer: infer Answer extends z.ZodType }
  ? z.output<Answer>
  : never;
