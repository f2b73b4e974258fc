import * as z from "zod";
import { PROBLEMS, problemSchema } from "./problem.ts";
import { ROUTES, type Route } from "./routes.ts";

/** A JSON value that describes something. */
type Description = Readonly<Record<string, unknown>>;

/**
 * The OpenAPI description (3.1.1) of everything that the server answers, made from the same schemas that check requests.
 *
 * @param version of the program
 */
export function openApi(version: string): Description {
  const paths: Record<string, Record<string, unknown>> = {};
  for (const [name, route] of Object.entries<Route>(ROUTES)) {
    const path = route.path.replace(/:(\w+)/g, "{$1}");
    paths[path] ??= {};
    paths[path][route.method.toLowerCase()] = operation(name, route);
  }
  return {
    openapi: "3.1.1",
    info: {
      title: "Alcedo",
      version,
      description:
        "Small-field dosimetry with plastic scintillation detectors. Research and quality-assurance aid, not a medical device.",
    },
    paths,
    components: {
      schemas: { Problem: schemaOf(problemSchema, "output") },
      securitySchemes: { login: { type: "apiKey", in: "cookie", name: "alcedo" } },
    },
    security: [{ login: [] }],
  };
}

function operation(name: string, { summary, open, params, query, body, answer, path }: Route): Description {
  const parameters = [...parametersOf(params, "path"), ...parametersOf(query, "query")];
  return {
    operationId: name,
    summary,
    ...(open === true && { security: [] }),
    ...(parameters.length > 0 && { parameters }),
    ...(body !== undefined && { requestBody: { required: true, content: bodyContent(body) } }),
    responses: {
      ...(answer === undefined
        ? { 204: { description: "done" } }
        : { 200: { description: summary, content: answerContent(answer) } }),
      default: {
        description: `a problem (RFC 9457); its type ends in ${Object.keys(PROBLEMS).join(", ")}`,
        content: { "application/problem+json": { schema: { $ref: "#/components/schemas/Problem" } } },
      },
    },
    tags: [path.split("/")[2] ?? "api"],
  };
}

function parametersOf(schema: z.ZodObject | undefined, where: "path" | "query"): Description[] {
  if (schema === undefined) return [];
  const { properties = {}, required = [] } = schemaOf(schema, "input") as {
    properties?: Record<string, Description>;
    required?: string[];
  };
  return Object.entries(properties).map(([name, own]) => ({
    ...{ name, in: where, required: required.includes(name), schema: own },
  }));
}

function bodyContent(body: z.ZodType | "bytes"): Description {
  return body === "bytes"
    ? { "application/octet-stream": {} }
    : { "application/json": { schema: schemaOf(body, "input") } };
}

function answerContent(answer: z.ZodType | readonly string[]): Description {
  if (answer instanceof z.ZodType) return { "application/json": { schema: schemaOf(answer, "output") } };
  return Object.fromEntries(answer.map((kind) => [kind, {}]));
}

/** A schema of its own, without references to others: definitions are put in where they are used. */
function schemaOf(schema: z.ZodType, io: "input" | "output"): Description {
  const { $schema: _dialect, ...own } = z.toJSONSchema(schema, { io, reused: "inline" }) as Record<string, unknown>;
  return own;
}
