import { Ajv2020 } from "ajv/dist/2020.js";
import formats from "ajv-formats";
import { describe, expect, it } from "vitest";
import { openApi } from "./open-api.ts";
import { ROUTES, type Route } from "./routes.ts";

interface Operation {
  readonly operationId: string;
  readonly security?: readonly unknown[];
  readonly parameters?: readonly { readonly name: string; readonly in: string; readonly required: boolean }[];
  readonly requestBody?: { readonly content: Readonly<Record<string, { readonly schema?: object }>> };
  readonly responses: Readonly<Record<string, { readonly content?: Readonly<Record<string, { schema?: object }>> }>>;
}
const described = openApi("0.0.0") as {
  readonly openapi: string;
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, object>> };
};
const operations = Object.values(described.paths).flatMap((path) => Object.values(path));

function validator() {
  const ajv = new Ajv2020({ strict: false });
  formats(ajv);
  return ajv;
}

describe("the OpenAPI description", () => {
  it("names every route, once", () => {
    expect(described.openapi).toBe("3.1.1");
    expect(operations.map(({ operationId }) => operationId).sort()).toEqual(Object.keys(ROUTES).sort());
  });

  it("says of each route whether it asks for a login", () => {
    for (const { operationId, security } of operations) {
      const open = (ROUTES as Readonly<Record<string, Route>>)[operationId]!.open === true;
      expect([operationId, security]).toEqual([operationId, open ? [] : undefined]);
    }
  });

  it("holds schemas that a JSON Schema validator (Ajv, 2020-12) takes", () => {
    const schemas = operations.flatMap(({ requestBody, responses }) =>
      [requestBody?.content, ...Object.values(responses).map(({ content }) => content)].flatMap((content) =>
        Object.values(content ?? {}).flatMap(({ schema }) => (schema === undefined ? [] : [schema])),
      ),
    );
    expect(schemas.length).toBeGreaterThan(40);
    for (const schema of schemas) if (!("$ref" in schema)) expect(() => validator().compile(schema)).not.toThrow();
  });

  it("describes bodies as the server judges them", () => {
    const schema =
      described.paths["/api/campaigns/{id}/edits"]!["post"]!.requestBody!.content["application/json"]!.schema!;
    const fits = validator().compile(schema);
    const key = "8b9f1f43-4d2c-4b5e-9d0e-0a2f0c1f7a55";
    const cell = { table: "background", row: 0, column: "note", text: "x" };
    const body = { after: 3, edits: [{ cell }], why: "typed", key };
    for (const [value, fitting] of [
      [body, true],
      [{ ...body, key: "1" }, false],
      [{ ...body, edits: [] }, false],
      [{ ...body, edits: [{ cell: { ...cell, row: -1 } }] }, false],
      [{ ...body, more: 1 }, false],
    ] as const) {
      expect([value, fits(value)]).toEqual([value, fitting]);
      expect([value, ROUTES.edit.body.safeParse(value).success]).toEqual([value, fitting]);
    }
  });

  it("lists what stands in path and query", () => {
    const get = described.paths["/api/campaigns/{id}/document"]!["get"]!;
    expect(get.parameters!.map((own) => [own.name, own.in, own.required])).toEqual([
      ["id", "path", true],
      ["kind", "query", false],
      ["format", "query", false],
    ]);
    expect(Object.keys(get.responses["200"]!.content!)).toEqual(["application/pdf", "text/html"]);
  });

  it("says that a problem stands for everything that goes wrong", () => {
    expect(Object.keys(described.components.schemas)).toEqual(["Problem"]);
    for (const { responses } of operations)
      expect(responses["default"]!.content!["application/problem+json"]!.schema).toEqual({
        $ref: "#/components/schemas/Problem",
      });
  });
});
