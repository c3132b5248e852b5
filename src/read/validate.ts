/** Schema faults in the words of someone who writes plans, each at its line and column. */
import type { Document, Location, Place } from '../source/document.js';
import { locateAll } from '../source/locate.js';
import { nearest } from '../collections/nearest.js';
import type { Problem } from '../source/problem.js';
import type { Schema, SchemaFault } from './checks/check.js';

const MOST_PROBLEMS = 20;

/** Empty when the document has the shape of a plan, or of a request for one. */
export function validate(document: Document, { name, check }: Schema): readonly Problem[] {
  const faults = withoutRepeats(check(document.value)).slice(0, MOST_PROBLEMS);
  const placed = faults.map((fault) => ({ fault, place: placeOfFault(document, fault) }));
  const at = locateAll(placed.map(({ place }) => place));
  return placed.map(({ fault, place }) => {
    const where = at(place);
    return { at: where, ...explain(fault, name, asWritten(fault.data, document, where)) };
  });
}

/** A number as its file has it: an identity of digits keeps its leading zeros, and digits that no number holds. */
function asWritten(
  data: unknown,
  { content }: Document,
  { line, column, endLine, endColumn }: Location,
): string | undefined {
  if (typeof data !== 'number' || typeof content !== 'string' || line !== endLine) return undefined;
  const text = content.split(/\r\n|\r|\n/)[line - 1]?.slice(column - 1, endColumn - 1);
  return text !== undefined && /^[-+.\w]+$/.test(text) ? text : undefined;
}

/** One fault per value: a wrong type also fails every other keyword of the value. */
function withoutRepeats(faults: readonly SchemaFault[]): SchemaFault[] {
  const seen = new Set<string>();
  return faults.filter((fault) => {
    const key =
      fault.keyword === 'additionalProperties'
        ? `${fault.instancePath}/${String(fault.params['additionalProperty'])}`
        : fault.instancePath;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

function placeOfFault(document: Document, fault: SchemaFault): Place {
  const steps = stepsOf(fault);
  let container: object = isContainer(document.value) ? document.value : {};
  let key: string | number | undefined;
  for (const step of steps) {
    if (key !== undefined) {
      const next = (container as Readonly<Record<string, unknown>>)[key];
      if (!isContainer(next)) break;
      container = next;
    }
    key = Array.isArray(container) ? Number(step) : step;
  }
  if (fault.keyword === 'additionalProperties') {
    const inner = key === undefined ? container : (container as Readonly<Record<string, unknown>>)[key];
    return {
      document,
      container: isContainer(inner) ? inner : container,
      key: String(fault.params['additionalProperty']),
      onKey: true,
    };
  }
  return key === undefined ? { document, container } : { document, container, key };
}

/** The path to the value, from the root (RFC 6901). */
function stepsOf({ instancePath }: SchemaFault): readonly string[] {
  return instancePath
    .split('/')
    .slice(1)
    .map((step) => step.replaceAll('~1', '/').replaceAll('~0', '~'));
}

/** Keys by the names they had before version 0.2. */
const RENAMED_KEYS: ReadonlyMap<string, string> = new Map([
  ['house', 'conventions'],
  ['houseRules', 'conventionRules'],
  ['about', 'subject'],
  ['growth', 'spare'],
]);

function explain(
  fault: SchemaFault,
  name: string,
  written: string | undefined,
): { readonly what: string; readonly instead: string } {
  const schema = (fault.parentSchema ?? {}) as {
    readonly title?: string;
    readonly description?: string;
    readonly properties?: Readonly<Record<string, unknown>>;
    readonly type?: string | readonly string[];
    readonly enum?: readonly unknown[];
  };
  const named = stepsOf(fault).findLast((step) => !/^\d+$/.test(step));
  const where = named === undefined ? `the ${name}` : quote(named);
  const meaning = schema.description === undefined ? '' : ` ${schema.description}`;
  const unitless = withoutUnit(fault.data, schema.title);
  if (unitless !== undefined)
    return { what: `${where} is ${quote(fault.data)}, ${unitless.what}`, instead: unitless.instead };
  switch (fault.keyword) {
    case 'additionalProperties': {
      const key = String(fault.params['additionalProperty']);
      const known = Object.keys(schema.properties ?? {});
      const renamed = RENAMED_KEYS.get(key);
      if (renamed !== undefined && known.includes(renamed))
        return {
          what: `unknown key ${quote(key)} in ${where}`,
          instead: `write \`${renamed}\`, as it is called since version 0.2`,
        };
      const close = nearest(key, known);
      const list =
        known.length <= 16
          ? `known here: ${known.join(', ')}`
          : `\`schemas/${name}.schema.json\` lists the ${known.length} keys known here`;
      return {
        what: `unknown key ${quote(key)} in ${where}`,
        instead: close === undefined ? (known.length === 0 ? 'delete it' : list) : `write \`${close}\`; ${list}`,
      };
    }
    case 'required':
      return {
        what: `${where} has no \`${String(fault.params['missingProperty'])}\``,
        instead: `add \`${String(fault.params['missingProperty'])}:\` to this entry`,
      };
    case 'type':
      return {
        what: `${where} is ${written === undefined ? nameOf(fault.data) : quote(written)}, not ${typeNames(schema.type)}`,
        instead: fixType(fault.data, schema.type, meaning, written),
      };
    case 'enum': {
      const allowed = (schema.enum ?? []).map(String);
      const close = nearest(String(fault.data), allowed);
      return {
        what: `${where} is ${quote(fault.data)}`,
        instead: `write ${close === undefined ? '' : `\`${close}\`; it is `}one of ${allowed.join(', ')}`,
      };
    }
    case 'const':
      return {
        what: `${where} is ${quote(fault.data)}`,
        instead: `write ${JSON.stringify(fault.params['allowedValue'])}`,
      };
    case 'pattern':
      return { what: `${where} is ${quote(fault.data)}, which it can't be`, instead: `write it so:${meaning}` };
    default:
      return {
        what: `${where} ${isContainer(fault.data) ? '' : `is ${quote(fault.data)} and `}${(fault.message ?? 'is not allowed').replace('NOT', 'not')}`,
        instead: meaning === '' ? `see schemas/${name}.schema.json` : `write it so:${meaning}`,
      };
  }
}

/** A quantity that is a number alone could mean several: all are said. By the title of its definition in the schema. */
function withoutUnit(
  data: unknown,
  title: string | undefined,
): { readonly what: string; readonly instead: string } | undefined {
  const digits = typeof data === 'number' ? String(data) : typeof data === 'string' ? data.trim() : '';
  const meanings = title === undefined || !/^\d+(\.\d+)?$/.test(digits) ? undefined : MEANINGS[title];
  if (meanings === undefined) return undefined;
  return { what: `a ${String(title)} without its unit`, instead: `write ${meanings(digits)}` };
}

const MEANINGS: Readonly<Partial<Record<string, (digits: string) => string>>> = {
  rate: (digits) => `\`${digits}M\` for ${digits} Mbit/s, or \`${digits}G\` for ${digits} Gbit/s`,
  time: (digits) => `\`${digits} ms\`, \`${digits} us\` for microseconds, or \`${digits} s\``,
  length: (digits) => `\`${digits} m\` or \`${digits} km\``,
};

function fixType(
  data: unknown,
  type: string | readonly string[] | undefined,
  meaning: string,
  written: string | undefined,
): string {
  if (data === null) return `write a value or delete the line.${meaning}`;
  const types = typeof type === 'string' ? [type] : (type ?? []);
  if (types.includes('string') && (typeof data === 'number' || typeof data === 'boolean'))
    return `put it in quotes: "${written ?? String(data)}".${meaning}`;
  if (types.includes('array') && !Array.isArray(data))
    return `write a list, each entry on a line that starts with \`- \`.${meaning}`;
  if (types.includes('integer') && typeof data === 'string' && /^\d+$/.test(data))
    return `write it without quotes: ${data}.${meaning}`;
  return meaning === '' ? `write ${typeNames(type)}` : `write it so:${meaning}`;
}

function typeNames(type: string | readonly string[] | undefined): string {
  const words: Readonly<Record<string, string>> = {
    string: 'text',
    integer: 'a whole number',
    number: 'a number',
    boolean: 'true or false',
    array: 'a list',
    object: 'an entry with keys',
  };
  return (typeof type === 'string' ? [type] : (type ?? [])).map((one) => words[one] ?? one).join(' or ');
}

function nameOf(value: unknown): string {
  if (value === null) return 'empty';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'an entry with keys';
  if (typeof value === 'string') return `text (${quote(value)})`;
  return quote(value);
}

function quote(value: unknown): string {
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  return `\`${text.length > 60 ? `${text.slice(0, 57)}…` : text}\``;
}

function isContainer(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}
