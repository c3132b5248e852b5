import { styleText } from 'node:util';
import type { Severity } from '../lint/finding.js';

/** Weight and colour for words that already carry the meaning. */
export interface Paint {
  readonly severity: (severity: Severity, text: string) => string;
  readonly heading: (text: string) => string;
  readonly label: (text: string) => string;
}

type Style = Parameters<typeof styleText>[0];

const STYLES = {
  error: ['bold', 'magenta'],
  warning: ['bold', 'yellow'],
  note: ['bold', 'cyan'],
} as const satisfies Record<Severity, readonly string[]>;

/** Leaves text as it is unless colour is wanted. */
export function createPaint(colour: boolean): Paint {
  const apply = (style: Style, text: string): string => {
    return colour && text !== '' ? styleText(style, text, { validateStream: false }) : text;
  };
  return {
    severity: (severity, text) => apply([...STYLES[severity]], text),
    heading: (text) => apply('bold', text),
    label: (text) => apply('dim', text),
  };
}
