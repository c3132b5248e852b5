/**
 * Build step's part: a schema as code that says whether a tree fits it, and nothing about what does not. Nearly every plan
 * fits, and most of the time that the full check takes goes into knowing where it is. Whatever this code does not
 * understand at once it refuses, and the full check decides: it may refuse a tree that fits, never take one that does not.
 */

/** A node of a schema, as far as the schemas here use the language. */
interface Node {
  readonly $ref?: string;
  readonly type?: string | readonly string[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly pattern?: string;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly items?: Node;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly properties?: Readonly<Record<string, Node>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: boolean | Node;
  readonly minProperties?: number;
}

const SAY_NOTHING = new Set(['$schema', '$id', 'title', 'description', 'definitions']);
const UNDERSTOOD = new Set([
  ...['$ref', 'type', 'enum', 'const', 'pattern', 'minLength', 'maxLength', 'minimum', 'maximum', 'exclusiveMinimum'],
  ...['items', 'minItems', 'maxItems', 'properties', 'required', 'additionalProperties', 'minProperties'],
]);

/** Code that declares a function `quick(tree)`: true only where the tree fits. Throws on a schema it does not understand. */
export function quickCheckCode(schema: object): string {
  const { definitions = {} } = schema as { readonly definitions?: Readonly<Record<string, Node>> };
  const functions: string[] = [];
  const patterns: string[] = [];
  const named = new Map<string, string>();

  const functionOf = (node: Node): string => {
    const name = `fits${functions.length}`;
    const at = functions.push('') - 1;
    functions[at] = `function ${name}(d){${bodyOf(node)}}`;
    return name;
  };
  /** The function of a definition is named before it is written, for a definition may hold itself. */
  const definitionOf = (ref: string): string => {
    const known = named.get(ref);
    if (known !== undefined) return known;
    const node = definitions[ref.replace('#/definitions/', '')];
    if (node === undefined) throw new Error(`the schema has no ${ref}`);
    const name = `fits${functions.length}`;
    named.set(ref, name);
    const at = functions.push('') - 1;
    functions[at] = `function ${name}(d){${bodyOf(node)}}`;
    return name;
  };
  const bodyOf = (node: Node): string => {
    understand(node);
    if (node.$ref !== undefined) return `return ${definitionOf(node.$ref)}(d);`;
    if (node.const !== undefined) return `return d===${literal(node.const)};`;
    const branches = typesOf(node).map((type) => branchOf(type, node));
    if (node.enum !== undefined) {
      const among = node.enum.map((one) => `d===${literal(one)}`).join('||');
      return `if(!(${among}))return false;${node.type === undefined ? 'return true;' : `${branches.join('')}return false;`}`;
    }
    if (node.type === undefined) throw new Error('a node of the schema has no type');
    return `${branches.join('')}return false;`;
  };
  /** Returns where the value is of the type. */
  const branchOf = (type: string, node: Node): string => {
    switch (type) {
      case 'string':
        return `if(typeof d==='string')return ${and(stringTests(node))};`;
      case 'boolean':
        return `if(typeof d==='boolean')return true;`;
      case 'integer':
        return `if(Number.isInteger(d))return ${and(numberTests(node))};`;
      case 'number':
        return `if(typeof d==='number'&&isFinite(d))return ${and(numberTests(node))};`;
      case 'array':
        return `if(Array.isArray(d)){${listTests(node)}return true;}`;
      case 'object':
        return `if(typeof d==='object'&&d!==null&&!Array.isArray(d)){${objectTests(node)}}`;
      default:
        throw new Error(`the schema has a type ${type}`);
    }
  };
  const stringTests = ({ pattern, minLength = 0, maxLength }: Node): readonly string[] => {
    const tests: string[] = [];
    // A sign outside the basic plane counts once, and is two units long.
    if (minLength > 0) tests.push(`d.length>=${minLength === 1 ? 1 : minLength * 2}`);
    if (maxLength !== undefined) tests.push(`d.length<=${maxLength}`);
    if (pattern !== undefined) {
      const known = patterns.indexOf(pattern);
      tests.push(`like${known < 0 ? patterns.push(pattern) - 1 : known}.test(d)`);
    }
    return tests;
  };
  const listTests = ({ items, minItems, maxItems }: Node): string =>
    [
      minItems === undefined ? '' : `if(d.length<${minItems})return false;`,
      maxItems === undefined ? '' : `if(d.length>${maxItems})return false;`,
      items === undefined ? '' : `for(let i=0;i<d.length;i++)if(!${functionOf(items)}(d[i]))return false;`,
    ].join('');
  const objectTests = (node: Node): string => {
    const { properties = {}, required = [], additionalProperties = true, minProperties = 0 } = node;
    const tests = Object.entries(properties).map(([key, one]) => {
      const value = `d[${literal(key)}]`;
      const absent = required.includes(key) ? 'return false;' : '';
      const test = `{known++;if(!${functionOf(one)}(v))return false;}`;
      return `v=${value};if(v!==undefined)${test}${absent === '' ? '' : `else ${absent}`}`;
    });
    const unnamed = required.filter((key) => !(key in properties));
    if (unnamed.length > 0) throw new Error(`the schema requires ${unnamed.join(', ')} without saying what that is`);
    if (typeof additionalProperties === 'object' && Object.keys(properties).length > 0)
      throw new Error('the schema has keys of its own beside any others');
    const others =
      typeof additionalProperties === 'object' ? `if(!${functionOf(additionalProperties)}(d[key]))return false;` : '';
    // With none but known keys there are as many keys as known ones are found.
    const counts = `let keys=0;for(const key in d){keys++;${others}}`;
    const ends = [
      ...(additionalProperties === false ? ['keys===known'] : []),
      ...(minProperties > 0 ? [`keys>=${minProperties}`] : []),
    ];
    return `let v,known=0;${tests.join('')}${counts}return ${and(ends)};`;
  };

  const root = functionOf(schema);
  const likes = patterns.map((pattern, index) => `const like${index}=new RegExp(${literal(pattern)},'u');`);
  return `${likes.join('')}\n${functions.join('\n')}\nconst quick=${root};`;
}

function understand(node: Node): void {
  const unknown = Object.keys(node).filter((key) => !SAY_NOTHING.has(key) && !UNDERSTOOD.has(key));
  if (unknown.length > 0) throw new Error(`the schema says ${unknown.join(', ')}`);
  if (node.$ref !== undefined && Object.keys(node).some((key) => key !== '$ref' && UNDERSTOOD.has(key)))
    throw new Error(`the schema says more of ${node.$ref}`);
}

function typesOf({ type = [] }: Node): readonly string[] {
  return typeof type === 'string' ? [type] : type;
}

function numberTests({ minimum, maximum, exclusiveMinimum }: Node): readonly string[] {
  return [
    ...(minimum === undefined ? [] : [`d>=${minimum}`]),
    ...(maximum === undefined ? [] : [`d<=${maximum}`]),
    ...(exclusiveMinimum === undefined ? [] : [`d>${exclusiveMinimum}`]),
  ];
}

function and(tests: readonly string[]): string {
  return tests.length === 0 ? 'true' : tests.join('&&');
}

/** A plain value as code. */
function literal(value: unknown): string {
  if (typeof value === 'object' && value !== null) throw new Error('the schema names a value that is not plain');
  return JSON.stringify(value);
}
