/**
 * YAML through js-yaml's event parser: the events give both the values and, when a report asks, the positions.
 */
import {
  constructFromEvents,
  CORE_SCHEMA,
  EVENT_ID,
  getScalarValue,
  parseEvents,
  SCALAR_STYLE,
  YAMLException,
} from 'js-yaml';
import type { Event, ScalarEvent } from 'js-yaml';
import type { Container } from '../source/document.js';
import { textDocument, type ContainerSpans, type Span, type TextDocument } from '../source/text-document.js';
import { LineIndex } from '../source/line-index.js';
import { toLocation } from '../source/locate.js';
import { expandsPast } from './expansion.js';
import type { ReadResult } from './result.js';
import { waysTo } from './ways.js';

/** Deeper than any plan. */
const MOST_DEPTH = 400;

/** Containers a file may stand for once its aliases are followed, per container it writes out. */
const MOST_EXPANSION = 50;

export function readYaml(name: string, text: string): ReadResult<TextDocument> {
  try {
    const events = parseEvents(text, {});
    const documents = constructFromEvents(events, { source: text, schema: CORE_SCHEMA });
    if (documents.length !== 1) return notOneDocument(name, text, events, documents.length);
    const value = documents[0];
    const alias = events.find((event) => event.type === EVENT_ID.ALIAS);
    if (alias !== undefined && expandsPast(value, Math.max(1_000_000, events.length * MOST_EXPANSION))) {
      return failure(
        name,
        text,
        startOf(alias),
        'the aliases (`*name`) of this file stand for a plan too large to read',
        'write equal devices as a kind under `kinds:` instead of nesting aliases',
      );
    }
    const document = textDocument({
      name,
      format: 'yaml',
      text,
      value,
      // What an alias stands for is written elsewhere: then nothing is passed over.
      spans: (wanted) =>
        spansOf(text, events, value, wanted, alias === undefined ? waysTo(value, wanted, MOST_DEPTH) : undefined),
    });
    return { document, problems: [] };
  } catch (error) {
    if (error instanceof YAMLException)
      return failure(name, text, error.mark?.position ?? 0, ...explain(shortened(error.reason)));
    if (error instanceof RangeError)
      return failure(
        name,
        text,
        0,
        'this file is nested too deeply to read',
        'keep the plan flat, as the schema shows',
      );
    throw error;
  }
}

/** The parser quotes the text it stumbles over, however long. */
function shortened(reason: string): string {
  return reason.length > 200 ? `${reason.slice(0, 200)}…` : reason;
}

/** What js-yaml says, with what to write instead. */
function explain(reason: string): readonly [string, string] {
  const known: readonly (readonly [RegExp, string, string])[] = [
    [
      /duplicated mapping key/,
      'this key stands twice in one entry',
      'delete one of the two, or make it a second entry of the list with its own `- `',
    ],
    [
      /non-printable|expected valid JSON character/,
      'a control character stands here, which YAML does not allow',
      'take it out',
    ],
    [/tab characters? must not be used/, 'a tab is used for indentation', 'indent with spaces'],
    [
      /indentation/,
      `the indentation does not fit the lines above (${reason})`,
      'line it up with the entry it belongs to',
    ],
    [/null byte/, 'there is a null byte here; the file is not plain text', 'save the file as UTF-8 text'],
    [/unidentified alias/, reason, 'define the anchor (`&name`) before it is used'],
    [/merge/, reason, 'write equal devices as a kind under `kinds:`'],
    [/maxDepth|depth/i, 'this file is nested too deeply to read', 'keep the plan flat, as the schema shows'],
    [
      /unexpected end|end of the stream/,
      `the file ends too early (${reason})`,
      'close the quote or bracket opened before it',
    ],
  ];
  const match = known.find(([pattern]) => pattern.test(reason));
  return match === undefined
    ? [`this is not valid YAML: ${reason}`, 'look for a missing colon, quote or bracket here or on the line above']
    : [match[1], match[2]];
}

function notOneDocument(name: string, text: string, events: readonly Event[], count: number): ReadResult<TextDocument> {
  if (count === 0)
    return failure(name, text, 0, 'this file is empty', 'start with `rig: NAME` and a list of `devices:`');
  const second = events.filter((event) => event.type === EVENT_ID.DOCUMENT)[1];
  const marker = text.indexOf('\n---', 1);
  return failure(
    name,
    text,
    second === undefined || marker < 0 ? 0 : marker + 1,
    `this file holds ${count} YAML documents`,
    'put each in a file of its own and name all the files, or the folder',
  );
}

function failure(
  name: string,
  text: string,
  position: number,
  what: string,
  instead: string,
): ReadResult<TextDocument> {
  const at = toLocation(name, new LineIndex(text), { start: position, end: position });
  return { document: undefined, problems: [{ at, what, instead }] };
}

interface Frame {
  readonly container: Container | undefined;
  readonly start: number;
  readonly entries: Map<string | number, { key?: Span; value: Span }> | undefined;
  readonly sequence: boolean;
  /** Next index of a sequence, or the key a mapping waits for the value of. */
  index: number;
  key: { readonly text: string; readonly span: Span } | undefined;
}

/**
 * Walks events and values side by side, until all is found. Containers nobody wants are passed over: of those outside the
 * `ways` to what is wanted only the end is told.
 */
function spansOf(
  text: string,
  events: readonly Event[],
  root: unknown,
  wanted: ReadonlySet<Container>,
  ways: ReadonlySet<Container> | undefined,
): ReadonlyMap<Container, ContainerSpans> {
  const found = new Map<Container, ContainerSpans>();
  const stack: Frame[] = [];
  let end = 0;
  /** Containers that are open in one that is passed over, itself among them. */
  let passing = 0;
  let passedFrom = 0;

  const childOf = (frame: Frame | undefined): unknown => {
    if (frame === undefined) return root;
    const { container } = frame;
    if (container === undefined) return undefined;
    if (frame.sequence) return (container as readonly unknown[])[frame.index];
    return frame.key === undefined ? undefined : (container as Readonly<Record<string, unknown>>)[frame.key.text];
  };

  const settle = (span: Span, keyText: string | undefined): void => {
    const frame = stack.at(-1);
    if (frame === undefined) return;
    if (frame.sequence) {
      frame.entries?.set(frame.index, { value: span });
      frame.index++;
    } else if (frame.key === undefined) {
      frame.key = { text: keyText ?? '', span };
    } else {
      frame.entries?.set(frame.key.text, { key: frame.key.span, value: span });
      frame.key = undefined;
    }
  };

  for (const event of events) {
    if (passing > 0) {
      if (event.type === EVENT_ID.SCALAR) end = endOfScalar(event, end);
      else if (event.type === EVENT_ID.SEQUENCE || event.type === EVENT_ID.MAPPING) passing++;
      else if (event.type === EVENT_ID.POP && --passing === 0)
        settle({ start: passedFrom, end: Math.max(end, passedFrom) }, undefined);
      continue;
    }
    switch (event.type) {
      case EVENT_ID.SCALAR: {
        const span = scalarSpan(event, end);
        end = span.end;
        const frame = stack.at(-1);
        const isKey = frame !== undefined && !frame.sequence && frame.key === undefined;
        settle(span, isKey ? getScalarValue(text, event) : undefined);
        break;
      }
      case EVENT_ID.ALIAS:
        end = event.anchorEnd;
        settle({ start: event.anchorStart - 1, end }, text.slice(event.anchorStart, event.anchorEnd));
        break;
      case EVENT_ID.SEQUENCE:
      case EVENT_ID.MAPPING: {
        const value = childOf(stack.at(-1));
        const container = typeof value === 'object' && value !== null ? value : undefined;
        if (ways !== undefined && !(container !== undefined && ways.has(container))) {
          passing = 1;
          passedFrom = startOf(event);
          break;
        }
        const entries =
          container !== undefined && wanted.has(container) && !found.has(container)
            ? new Map<string | number, { key?: Span; value: Span }>()
            : undefined;
        stack.push({
          container,
          start: startOf(event),
          entries,
          sequence: event.type === EVENT_ID.SEQUENCE,
          index: 0,
          key: undefined,
        });
        break;
      }
      case EVENT_ID.POP: {
        const frame = stack.pop();
        if (frame === undefined) break; // closes the document
        const span = { start: frame.start, end: Math.max(end, frame.start) };
        if (frame.entries !== undefined && frame.container !== undefined)
          found.set(frame.container, { self: span, entries: frame.entries });
        if (found.size === wanted.size) return found;
        settle(span, undefined);
        break;
      }
      case EVENT_ID.DOCUMENT:
        break;
    }
  }
  return found;
}

function endOfScalar(event: ScalarEvent, before: number): number {
  return event.valueStart < 0 ? before : event.valueEnd + (isQuoted(event) ? 1 : 0);
}

function isQuoted({ style }: ScalarEvent): boolean {
  return style === SCALAR_STYLE.SINGLE_QUOTED || style === SCALAR_STYLE.DOUBLE_QUOTED;
}

/** An empty value has no place of its own: it stands where the text before it ends. */
function scalarSpan(event: ScalarEvent, before: number): Span {
  if (event.valueStart < 0) return { start: before, end: before };
  return { start: event.valueStart - (isQuoted(event) ? 1 : 0), end: endOfScalar(event, before) };
}

function startOf(event: Event): number {
  switch (event.type) {
    case EVENT_ID.SEQUENCE:
    case EVENT_ID.MAPPING:
      return event.start;
    case EVENT_ID.ALIAS:
      return event.anchorStart - 1;
    case EVENT_ID.SCALAR:
      return Math.max(0, event.valueStart);
    case EVENT_ID.DOCUMENT:
    case EVENT_ID.POP:
      return 0;
  }
}
