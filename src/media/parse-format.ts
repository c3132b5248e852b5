import { CODINGS, codingNamed, type Coding, type CodingDescriptor } from './codings/index.js';
import type { FormatFacts } from './format.js';
import { readWords, type ReadWords } from './format-words.js';
import type { SaidFacts, SaidForm, SayingProblem } from './said.js';
import type { RateOptions } from './types.js';

/** A format as people say it, completed. */
export interface SaidFormat {
  readonly format: FormatFacts;
  readonly options: RateOptions;
  /** What nobody said and was taken as so. */
  readonly assumptions: readonly string[];
}

/** Reads `1080p50 jpegxs 3bpp`, `L24 8ch 125us`, `ts 20M`; or says what to write instead. */
export function parseFormat(text: string): SaidFormat | SayingProblem {
  const read = readWords(text);
  if ('problem' in read) return read;
  if (read.words.size === 0) return { problem: 'no format is given; write one such as `1080p50`' };
  const coding = read.facts.coding ?? codingMeant(read.facts);
  const form = codingNamed(coding)?.said;
  if (coding === undefined || form === undefined) return { problem: NOTHING_SENT };
  const strange = wordOutside(read, form);
  if (strange !== undefined) return { problem: `\`${strange}\` says nothing about ${form.title}; write ${form.write}` };
  const said = form.read(read.facts);
  return 'problem' in said ? said : { ...said, format: { name: undefined, coding, ...said.format } };
}

const NOTHING_SENT =
  'nothing says what is sent; write a picture (`1080p50`), sound (`L24 8ch`) or a coding and its rate (`h264 8M`)';

/** The coding people mean who name none. */
function codingMeant(facts: Partial<SaidFacts>): Coding | undefined {
  return CODINGS.find(({ said }: CodingDescriptor) => said?.isMeantBy?.(facts) === true)?.name;
}

function wordOutside({ words }: ReadWords, { takes }: SaidForm): string | undefined {
  for (const [fact, word] of words) if (fact !== 'coding' && !takes.includes(fact)) return word;
  return undefined;
}
