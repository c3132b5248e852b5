/** Weight and colour for words that already carry the meaning. */
import type { Row } from '../page/page.js';

/** What can be set off; severities have a colour each. */
export type Tone = Row['tone'];

/** Sets a text off. */
export type Paint = (tone: Tone, text: string) => string;

/** Codes that begin and end a style: Select Graphic Rendition, ECMA-48 §8.3.117; colours are its numbers 30 to 37. */
const STYLES = {
  bold: [1, 22],
  dim: [2, 22],
  yellow: [33, 39],
  magenta: [35, 39],
  cyan: [36, 39],
} as const;

const TONES: Readonly<Record<Tone, readonly (keyof typeof STYLES)[]>> = {
  error: ['bold', 'magenta'],
  warning: ['bold', 'yellow'],
  note: ['bold', 'cyan'],
  title: ['bold'],
  label: ['dim'],
  count: ['dim'],
};

/** Leaves text as it is unless colour is wanted. */
export function createPaint(colour: boolean): Paint {
  return (tone, text) => {
    if (!colour || text === '') return text;
    return TONES[tone].reduceRight((inner, style) => {
      const [begin, end] = STYLES[style];
      return `\u001b[${begin}m${inner}\u001b[${end}m`;
    }, text);
  };
}
