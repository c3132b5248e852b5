import type { Terminal } from '../edge/terminal.js';
import { FORMATS_SAID } from '../media/format-forms.js';
import { ETHERNET_MTU_OCTETS } from '../media/packet.js';
import { parseFormat } from '../media/parse-format.js';
import { HEADROOM_PERCENT, PORT_SPEEDS, streamsPerPort } from '../media/port-fit.js';
import { streamRate } from '../media/stream-rate.js';
import type { StreamRate } from '../media/types.js';
import { drawJson } from '../draw/json.js';
import { escapeText } from '../page/escape.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';

export interface RateCommandOptions {
  readonly headroom?: number;
  readonly json?: boolean;
}

/** Prints what a stream of a format puts on the wire; without a format, the forms formats are said in. */
export function rateCommand(words: readonly string[], options: RateCommandOptions, terminal: Terminal): ExitCode {
  const text = words.join(' ').trim();
  const json = options.json === true;
  if (text === '') {
    terminal.stdout.write(json ? drawJson({ forms: FORMATS_SAID }) : formsPage());
    return EXIT.clean;
  }
  const said = parseFormat(text);
  if ('problem' in said) throw new UsageError(escapeText(said.problem));
  const { rate, missing } = streamRate(said.format, said.options);
  if (rate === undefined) throw new UsageError(escapeText(`\`${text}\` has no rate without ${missing.join(', ')}`));
  const reason = options.headroom === undefined ? [HEADROOM_REASON] : [];
  const answer: Answer = {
    text,
    rate,
    isJpegXs: said.format.coding === 'st2110-22',
    headroomPercent: options.headroom ?? HEADROOM_PERCENT,
    assumptions: [...said.assumptions, ...rate.assumptions, ...reason],
  };
  terminal.stdout.write(json ? drawJson(toJson(answer)) : page(answer));
  return EXIT.clean;
}

const HEADROOM_REASON =
  `${HEADROOM_PERCENT} % of a port kept free: gapped senders run 4 % above their average inside the picture ` +
  '(ST 2110-21), and clocks and control need room; common practice keeps 10 to 20 %';

interface Answer {
  readonly text: string;
  readonly isJpegXs: boolean;
  readonly rate: StreamRate;
  readonly assumptions: readonly string[];
  readonly headroomPercent: number;
}

function formsPage(): string {
  const width = Math.max(...FORMATS_SAID.map((form) => form.title.length));
  const besides = (title: string, text: string): string => `  ${title.padEnd(width)}  ${text}`;
  const lines = FORMATS_SAID.flatMap((form) => [
    ...form.examples.map((example, index) => besides(index === 0 ? form.title : '', `rigproof rate "${example}"`)),
    besides('', `with ${form.more}`),
    '',
  ]);
  return [
    'A format is said in words, in any order:',
    '',
    ...lines,
    'The number after p counts frames, after i fields. Bit rates are k, M, G.',
    '',
  ].join('\n');
}

function page(answer: Answer): string {
  const { rate } = answer;
  const limit = rate.udpLimitOctets;
  const allowed = limit === undefined ? '' : `, ${held(rate.largestUdpOctets, limit, 'allowed')}`;
  const carried = held(rate.largestIpOctets, ETHERNET_MTU_OCTETS, 'on common Ethernet');
  const fits = PORT_SPEEDS.map((port) => `${port.name} ${streamsPerPort(rate, port.rateBps, answer.headroomPercent)}`);
  return [
    `${escapeText(answer.text)}: ${rate.codingNote}${rate.basis === 'estimated' ? ' (estimate)' : ''}`,
    '',
    ...aligned([
      ['largest UDP datagram', String(rate.largestUdpOctets), `octets${allowed}`],
      ['largest IP packet', String(rate.largestIpOctets), `octets, ${carried}`],
      ...(rate.packetsPerFrame === undefined ? [] : [['packets a frame', String(rate.packetsPerFrame), ''] as const]),
      ['packets a second', rate.packetsPerSecond.toFixed(1), ''],
      ['essence', megabits(rate.essenceBps), 'Mbit/s'],
      ['IP', megabits(rate.ipBps), `Mbit/s of whole IP packets${answer.isJpegXs ? ', as b=AS counts them' : ''}`],
      ['wire', megabits(rate.wireBps), 'Mbit/s with preamble and gap, untagged'],
      ['wire, tagged', megabits(rate.wireTaggedBps), 'Mbit/s with a VLAN tag'],
    ]),
    '',
    `Streams a port carries, ${answer.headroomPercent} % of it kept free (--headroom):`,
    `  ${fits.join('   ')}`,
    ...(answer.assumptions.length === 0 ? [] : ['', 'Taken as so:']),
    ...answer.assumptions.map((one) => `- ${escapeText(one)}`),
    '',
  ].join('\n');
}

/** `1460 allowed`, or that it is too much. */
function held(octets: number, limit: number, where: string): string {
  return octets > limit ? `MORE than the ${limit} ${where}` : `${limit} ${where}`;
}

function aligned(rows: readonly (readonly [label: string, value: string, note: string])[]): readonly string[] {
  const labels = Math.max(...rows.map(([label]) => label.length));
  // Decimal points stand under each other.
  const wholes = Math.max(...rows.map(([, value]) => value.split('.')[0]?.length ?? 0));
  const decimals = Math.max(...rows.map(([, value]) => value.split('.')[1]?.length ?? 0));
  return rows.map(([label, value, note]) => {
    const [before = '', after] = value.split('.');
    const number = `${before.padStart(wholes)}${after === undefined ? '' : `.${after}`}`.padEnd(wholes + 1 + decimals);
    return `  ${label.padEnd(labels)}  ${number}  ${note}`.trimEnd();
  });
}

function toJson({ text, rate, assumptions, headroomPercent }: Answer): object {
  const { exact, ...numbers } = rate;
  const fits = PORT_SPEEDS.map((port) => [port.name, streamsPerPort(rate, port.rateBps, headroomPercent)] as const);
  return {
    format: text,
    ...numbers,
    exactWireTaggedBps: `${exact.wireTaggedBps.numerator}/${exact.wireTaggedBps.denominator}`,
    assumptions,
    headroomPercent,
    streamsPerPort: Object.fromEntries(fits),
  };
}

function megabits(rateBps: number): string {
  return (rateBps / 1e6).toFixed(3);
}
