/** Where entries of a YAML text really end: a container's span may stop before its closing brackets. */
import type { Span } from '../source/text-document.js';

/** Whether a container is written between brackets. */
export function isFlow(text: string, start: number): boolean {
  return text[start] === '{' || text[start] === '[';
}

/** Offset after the bracket that closes the one at `start`. */
export function closeOf(text: string, start: number): number | undefined {
  let depth = 0;
  /** A value may begin here, so that a quote opens a quoted text. */
  let fresh = true;
  for (let at = start; at < text.length; at++) {
    const character = text.charAt(at);
    if (character === '[' || character === '{') {
      depth++;
      fresh = true;
    } else if (character === ']' || character === '}') {
      depth--;
      if (depth === 0) return at + 1;
      fresh = false;
    } else if (character === ',') fresh = true;
    else if (character === ':') fresh = /[\s"'[\]{},]/.test(text.charAt(at + 1)) || /["'\]}]/.test(text.charAt(at - 1));
    else if (fresh && (character === '"' || character === "'")) {
      at = endOfQuoted(text, at);
      fresh = false;
    } else if (character === '#' && /\s/.test(text.charAt(at - 1))) {
      while (at + 1 < text.length && !/[\r\n]/.test(text.charAt(at + 1))) at++;
    } else if (fresh && (character === '&' || character === '!')) {
      while (at + 1 < text.length && !/[\s[\]{},]/.test(text.charAt(at + 1))) at++;
    } else if (!/\s/.test(character)) fresh = false;
  }
  return undefined;
}

function endOfQuoted(text: string, start: number): number {
  const quote = text.charAt(start);
  for (let at = start + 1; at < text.length; at++) {
    if (quote === '"' && text[at] === '\\') at++;
    else if (text[at] === quote) {
      if (quote === '"' || text[at + 1] !== quote) return at;
      at++;
    }
  }
  return text.length;
}

/** After the colon behind a key; undefined where there is none, as in `{a, b: 1}`. */
export function afterColon(text: string, keyEnd: number): number | undefined {
  let at = keyEnd;
  while (text[at] === ' ' || text[at] === '\t') at++;
  return text[at] === ':' ? at + 1 : undefined;
}

/** The end of an entry of a container between brackets. */
export function endInFlow(text: string, value: Span, old: unknown, key: Span | undefined): number | undefined {
  if (typeof old === 'object' && old !== null && isFlow(text, value.start)) return closeOf(text, value.start);
  if (value.start < value.end) return value.end;
  return key === undefined ? undefined : (afterColon(text, key.end) ?? key.end);
}

/** The end of an entry of a container written in lines, without the blanks behind it. */
export function endInBlock(text: string, value: Span, old: unknown, key: Span | undefined): number | undefined {
  if (typeof old === 'object' && old !== null && isFlow(text, value.start)) return closeOf(text, value.start);
  if (value.start === value.end && key !== undefined) return afterColon(text, key.end);
  let end = value.end;
  while (end > value.start && /\s/.test(text.charAt(end - 1))) end--;
  return typeof old === 'object' && old !== null ? afterBrackets(text, end) : end;
}

/** Past what may follow the last text of a container: an empty value, and closing brackets, which begin no line of their own. */
function afterBrackets(text: string, from: number): number | undefined {
  const colon = afterColon(text, from);
  let end = colon ?? from;
  if (colon !== undefined) {
    let at = colon;
    while (text[at] === ' ') at++;
    if (isFlow(text, at)) {
      const close = closeOf(text, at);
      if (close === undefined) return undefined;
      end = close;
    }
  }
  for (let at = end; at < text.length; at++) {
    const character = text.charAt(at);
    if (character === '}' || character === ']') end = at + 1;
    else if (character === '#' && /\s/.test(text.charAt(at - 1))) {
      while (at + 1 < text.length && !/[\r\n]/.test(text.charAt(at + 1))) at++;
    } else if (!/[\s,]/.test(character)) break;
  }
  return end;
}
