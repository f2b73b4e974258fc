import type { Readable } from "node:stream";
import type { Archive } from "@alcedo-dosimetry/archive";
import type { ROUTES, RouteName } from "@alcedo-dosimetry/protocol";
import type { FastifyReply, FastifyRequest } from "fastify";
import type * as z from "zod";
import type { Login } from "./security/logins.ts";

type Definition<Name extends RouteName> = (typeof ROUTES)[Name];
type Taken<Name extends RouteName, Key extends string> =
  Definition<Name> extends Readonly<Record<Key, infer Schema>>
    ? Schema extends z.ZodType
      ? z.output<Schema>
      : Uint8Array
    : undefined;

type ReadonlyDeep<T> = T extends readonly (infer Item)[]
  ? readonly ReadonlyDeep<Item>[]
  : T extends object
    ? { readonly [Key in keyof T]: ReadonlyDeep<T[Key]> }
    : T;

/** What is asked, checked against its schemas, and who asks. */
export interface Asked<Name extends RouteName> {
  readonly params: Taken<Name, "params">;
  readonly query: Taken<Name, "query">;
  readonly body: Taken<Name, "body">;
  /** Nobody on a route that needs no login. */
  readonly login: Definition<Name> extends { open: true } ? undefined : Login;
  /** The archive in the hands of whoever asks: revisions are theirs. */
  readonly archive: Archive;
  /** Aborted when whoever asked has gone. */
  readonly gone: AbortSignal;
  readonly request: FastifyRequest;
  readonly reply: FastifyReply;
}

/** A file as an answer. */
export interface FileAnswer {
  readonly bytes: Uint8Array;
  readonly type: string;
  readonly name: string;
  /** Shown in the browser, not put among the downloads. */
  readonly shown?: boolean;
}

/** What a route answers: JSON as its schema says, a file, a stream, or nothing. */
type Answered<Name extends RouteName> =
  Definition<Name> extends { readonly answer: infer Schema }
    ? Schema extends z.ZodType
      ? ReadonlyDeep<z.output<Schema>>
      : FileAnswer | Readable
    : undefined;

/** How each thing that may be asked is answered. */
export type Handlers<Names extends RouteName = RouteName> = {
  readonly [Name in Names]: (asked: Asked<Name>) => Promise<Answered<Name>> | Answered<Name>;
};
