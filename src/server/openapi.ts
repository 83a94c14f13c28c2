/** The interface described as OpenAPI 3.1, out of the same routes that serve it. */
import { z } from "zod";
import type { Route } from "./route.ts";

type Json = Readonly<Record<string, unknown>>;

/** @param named schemas that are told once and referred to by name */
export function describe(routes: readonly Route[], named: Readonly<Record<string, z.ZodType>>, version: string): Json {
  const names = new Map(Object.entries(named).map(([name, schema]) => [schema, name]));
  const schemaOf = (schema: z.ZodType): Json => {
    const name = names.get(schema);
    if (name !== undefined) return { $ref: `#/components/schemas/${name}` };
    if (schema instanceof z.ZodArray) return { type: "array", items: schemaOf(schema.element as z.ZodType) };
    return jsonSchema(schema);
  };
  const content = (body: z.ZodType | string): Json =>
    typeof body === "string"
      ? { [body]: { schema: { type: "string" } } }
      : { "application/json": { schema: schemaOf(body) } };
  const paths: Record<string, Record<string, Json>> = {};
  for (const { method, path, summary, query, body, file, answers } of routes) {
    paths[path] ??= {};
    paths[path][method] = {
      summary,
      parameters: [...pathParameters(path), ...(query === undefined ? [] : queryParameters(query))],
      ...(body === undefined ? {} : { requestBody: { required: true, content: content(body) } }),
      ...(file === undefined ? {} : { requestBody: { required: true, content: { "application/octet-stream": {} } } }),
      responses: Object.fromEntries(
        Object.entries(answers).map(([status, { means, body: sent }]) => [
          status,
          { description: means, content: content(sent) },
        ]),
      ),
    };
  }
  return {
    openapi: "3.1.0",
    info: {
      title: "Unseam",
      version,
      description: "Teardown records and what is computed from them. Served on this machine alone.",
    },
    jsonSchemaDialect: "https://json-schema.org/draft/2020-12/schema",
    paths,
    components: {
      schemas: Object.fromEntries(Object.entries(named).map(([name, schema]) => [name, jsonSchema(schema)])),
    },
  };
}

function jsonSchema(schema: z.ZodType): Json {
  const { $schema: _, ...rest } = z.toJSONSchema(schema, {
    target: "draft-2020-12",
    io: "input",
    unrepresentable: "any",
  });
  return rest;
}

function pathParameters(path: string): Json[] {
  return [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => ({
    name,
    in: "path",
    required: true,
    schema: name === "id" ? { type: "string", format: "uuid" } : { type: "string" },
  }));
}

function queryParameters(query: z.ZodType): Json[] {
  const { properties = {}, required = [] } = jsonSchema(query) as { properties?: Json; required?: string[] };
  return Object.entries(properties).map(([name, schema]) => ({
    name,
    in: "query",
    required: required.includes(name),
    schema,
  }));
}
