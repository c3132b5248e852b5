/** A tree of a plan as YAML, entries that fit on a line in one line, with comments. Reads back to the same tree. */

export interface Comments {
  /** Above everything. */
  readonly head: readonly string[];
  /** Above an entry of the top, by its key. */
  readonly sections: ReadonlyMap<string, readonly string[]>;
}

const WIDTH = 118;

/** Entries of these lists are always written over several lines: they are the ones people read and change. */
const SPREAD: ReadonlySet<string> = new Set(['vlans', 'switches', 'kinds', 'devices']);

/** The whole file. */
export function yamlText(tree: Readonly<Record<string, unknown>>, { head, sections }: Comments): string {
  const lines: string[] = head.map(comment);
  for (const [key, value] of Object.entries(tree)) {
    if (value === undefined) continue;
    const above = sections.get(key) ?? [];
    if (above.length > 0 || isTree(value)) lines.push('');
    lines.push(...above.map(comment));
    entry(`${keyText(key)}:`, value, 0, SPREAD.has(key) ? 1 : 0, lines);
  }
  return `${lines.join('\n')}\n`;
}

/** Pushes `lead` with its value; `spread` levels of what is below are not put on one line. */
function entry(lead: string, value: unknown, indent: number, spread: number, lines: string[]): void {
  const pad = ' '.repeat(indent);
  if (!isTree(value)) {
    lines.push(`${pad}${lead} ${scalar(value)}`);
    return;
  }
  const flow = spread > 0 || indent === 0 ? undefined : flowText(value, WIDTH - indent - lead.length - 1);
  if (flow !== undefined) {
    lines.push(`${pad}${lead} ${flow}`);
    return;
  }
  lines.push(`${pad}${lead}`);
  block(value, indent + 2, spread, lines);
}

function block(value: object, indent: number, spread: number, lines: string[]): void {
  const pad = ' '.repeat(indent);
  if (Array.isArray(value)) {
    for (const one of value as readonly unknown[]) {
      const flow = isTree(one) && spread > 0 ? undefined : flowText(one, WIDTH - indent - 2);
      if (flow !== undefined || !isTree(one)) {
        lines.push(`${pad}- ${flow ?? scalar(one)}`);
        continue;
      }
      const inner: string[] = [];
      block(one, indent + 2, 0, inner);
      const [first = ''] = inner;
      lines.push(`${pad}- ${first.slice(indent + 2)}`);
      for (let index = 1; index < inner.length; index++) lines.push(inner[index] ?? '');
    }
    return;
  }
  for (const [key, one] of Object.entries(value))
    if (one !== undefined) entry(`${keyText(key)}:`, one, indent, 0, lines);
}

/** On one line of at most `room` columns; undefined where it takes more. */
function flowText(value: unknown, room: number): string | undefined {
  if (!isTree(value)) {
    const text = scalar(value);
    return text.length <= room ? text : undefined;
  }
  const parts: string[] = [];
  let used = 2;
  const list = Array.isArray(value);
  for (const [key, one] of Object.entries(value)) {
    if (one === undefined) continue;
    const lead = list ? '' : `${keyText(key)}: `;
    const text = flowText(one, room - used - lead.length);
    if (text === undefined) return undefined;
    used += lead.length + text.length + 2;
    if (used > room + 2) return undefined;
    parts.push(lead + text);
  }
  return list ? `[${parts.join(', ')}]` : `{${parts.join(', ')}}`;
}

/** Words that stand for themselves in every YAML; addresses and their blocks and ranges; rates. */
const PLAIN =
  /^(?:[A-Za-z][\w./-]*(?: [A-Za-z0-9(][\w./()-]*)*|\d+(?:\.\d+){3}(?:[/-][\d.]+)?|\d+[GMk]|\d+-\d+|\d+(?:\.\d+)? (?:ns|us|ms|s|m|km))$/;
const NOT_TEXT = /^(?:null|true|false|yes|no|on|off|y|n|nan|inf)$/i;
const HIDDEN = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}\p{Default_Ignorable_Code_Point}]/gu;

function scalar(value: unknown): string {
  if (typeof value !== 'string') return JSON.stringify(value);
  if (PLAIN.test(value) && !NOT_TEXT.test(value)) return value;
  return JSON.stringify(value).replace(HIDDEN, (sign) =>
    Array.from(
      { length: sign.length },
      (_, index) => `\\u${sign.charCodeAt(index).toString(16).padStart(4, '0')}`,
    ).join(''),
  );
}

/** Keys are those of the schema, but for names of traffic and thresholds. `on` is text in YAML 1.2 (§10.3.2). */
function keyText(key: string): string {
  return /^[A-Za-z]+$/.test(key) ? key : scalar(key);
}

/** What a request writes must not end the comment or hide in it. */
function comment(text: string): string {
  return text === '' ? '#' : `# ${text.replace(HIDDEN, '?')}`;
}

function isTree(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}
