/** Values as YAML writes them (YAML 1.2.2). */
import type { EditValue } from '../edits/entry.js';

/** A value in the quotes the old one had, or in those it needs. Lists and mappings are written between brackets. */
export function writeYaml(value: EditValue, old = ''): string {
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  if (typeof value === 'string') {
    if (old.startsWith('"')) return doubleQuoted(value);
    if (old.startsWith("'") && isPrintable(value)) return `'${value.replaceAll("'", "''")}'`;
    return isPlain(value) ? value : doubleQuoted(value);
  }
  if (isList(value)) return `[${value.map((one) => writeYaml(one)).join(', ')}]`;
  return `{${Object.entries(value)
    .map(([key, one]) => writeYamlEntry(key, one))
    .join(', ')}}`;
}

/** `key: value`. Keys of plans are words, and readers take them for text even where YAML 1.1 would not, as `on`. */
export function writeYamlEntry(key: string, value: EditValue): string {
  const plain = /^[A-Za-z][\w-]*$/.test(key) && !/^(?:true|false|null)$/i.test(key);
  return `${plain ? key : doubleQuoted(key)}: ${writeYaml(value)}`;
}

function isList(value: EditValue): value is readonly EditValue[] {
  return Array.isArray(value);
}

function isPrintable(text: string): boolean {
  return /^[\x20-\x7e]*$/.test(text);
}

/**
 * A JSON string is a YAML string too (YAML 1.2.2 §1.3), but for characters YAML doesn't print (§5.1); what turns the
 * direction of text or can't be seen is escaped as well.
 */
function doubleQuoted(text: string): string {
  return JSON.stringify(text).replace(
    /[\u007f-\u009f\u00ad\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufffe\uffff]/g,
    (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}

/** Text that needs no quotes anywhere (YAML 1.2.2 §7.3.3) and that neither YAML 1.2 (§10.3.2) nor 1.1 reads as something else. */
function isPlain(text: string): boolean {
  if (!/^[\p{L}\p{N}](?:[\p{L}\p{N} _./:()+@%=~;-]*[\p{L}\p{N}_./()+@%=~;-])?$/u.test(text)) return false;
  if (/: | #/.test(text) || /^(?:true|false|null|yes|no|on|off|y|n)$/i.test(text)) return false;
  return !NUMBERS.some((form) => form.test(text));
}

/** Numbers of YAML 1.2 and 1.1, whose sixties (`12:30:00`) are numbers too, and days. */
const NUMBERS = [
  /^\d[\d_]*(?:\.[\d_]*)?(?:e[-+]?\d+)?$/i,
  /^0(?:x[\da-f_]+|o[0-7_]+|b[01_]+)$/i,
  /^\d[\d_]*(?::[0-5]?\d)+(?:\.[\d_]*)?$/,
  /^\d{4}-\d{1,2}-\d{1,2}/,
];
