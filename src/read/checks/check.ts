/** What a tree is held against: a schema of `schemas/`, as a function that tells every fault. */

/** One fault of a tree against a schema, in the words of JSON Schema. */
export interface SchemaFault {
  /** Where the value is (RFC 6901). */
  readonly instancePath: string;
  readonly keyword: string;
  readonly params: Readonly<Record<string, unknown>>;
  readonly message?: string | undefined;
  /** The part of the schema that says what the value may be. */
  readonly parentSchema?: object | undefined;
  readonly data?: unknown;
}

/** Every fault of a tree, in the order of the schema. */
export type Check = (tree: unknown) => readonly SchemaFault[];

/** A check and what a message calls the whole tree: `plan`, as in `schemas/plan.schema.json`. */
export interface Schema {
  readonly name: string;
  readonly check: Check;
}
