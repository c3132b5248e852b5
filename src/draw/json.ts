/** Data as JSON. */
import { UNSAFE } from '../page/escape.js';

/** Indented JSON whose strings hold no unsafe character; it reads back to the same value. Ends in a newline. */
export function drawJson(data: unknown): string {
  const text = JSON.stringify(data, null, 2).replace(UNSAFE, (character) => {
    return character === '\n' ? character : toUtf16(character);
  });
  return `${text}\n`;
}

function toUtf16(character: string): string {
  return Array.from({ length: character.length }, (_, index) => {
    return `\\u${character.charCodeAt(index).toString(16).padStart(4, '0')}`;
  }).join('');
}
