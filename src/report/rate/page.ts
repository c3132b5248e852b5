/** What a stream puts on the wire, for a person. */
import type { RateResult } from '../../answers/rate.js';
import type { Column, Page, TableRow } from '../../page/page.js';
import { copy, name, prose, say, sayApart, type Phrase } from '../../page/phrase.js';
import { block, list, outline, paragraph } from '../../page/rows.js';
import { assumedWords } from './words.js';

const COLUMNS: readonly Column[] = [{ type: 'name' }, { type: 'decimal' }, { type: 'phrase' }];

/** Packets and rates, what ports carry, what was taken as so. */
export function ratePage(result: RateResult): Page {
  const { said, rate, headroomPercent, ports } = result;
  const assumed = assumedWords(result);
  return {
    blocks: [
      ...block(paragraph(say`${copy(said)}: ${prose(rate.codingNote)}${prose(estimate(result))}`)),
      ...block({ kind: 'table', inset: true, columns: COLUMNS, rows: rateRows(result) }),
      ...block(
        paragraph(prose(`Streams a port carries, ${headroomPercent} % of it kept free (--headroom):`)),
        ...outline([{ depth: 0, text: sayApart(ports.map((port) => name(`${port.name} ${port.streams}`))) }]),
      ),
      ...(assumed.length === 0 ? [] : block(paragraph(prose('Taken as so:')), ...list(assumed.map(prose)))),
    ],
  };
}

function estimate({ rate }: RateResult): string {
  return rate.basis === 'estimated' ? ' (estimate)' : '';
}

function rateRows({ rate, statesRate, ethernetOctets }: RateResult): readonly TableRow[] {
  const limit = rate.udpLimitOctets;
  const allowed = limit === undefined ? '' : `, ${held(rate.largestUdpOctets, limit, 'allowed')}`;
  const carried = held(rate.largestIpOctets, ethernetOctets, 'on common Ethernet');
  return [
    tableRow('largest UDP datagram', String(rate.largestUdpOctets), `octets${allowed}`),
    tableRow('largest IP packet', String(rate.largestIpOctets), `octets, ${carried}`),
    ...(rate.packetsPerFrame === undefined ? [] : [tableRow('packets a frame', String(rate.packetsPerFrame))]),
    tableRow('packets a second', rate.packetsPerSecond.toFixed(1)),
    tableRow('essence', megabits(rate.essenceBps), 'Mbit/s'),
    tableRow('IP', megabits(rate.ipBps), `Mbit/s of whole IP packets${statesRate ? ', as b=AS counts them' : ''}`),
    tableRow('wire', megabits(rate.wireBps), 'Mbit/s with preamble and gap, untagged'),
    tableRow('wire, tagged', megabits(rate.wireTaggedBps), 'Mbit/s with a VLAN tag'),
  ];
}

function tableRow(label: string, number: string, note = ''): TableRow {
  const text: Phrase = prose(note);
  return { cells: [label, number, text] };
}

/** `1460 allowed`, or that it is too much. */
function held(octets: number, limit: number, where: string): string {
  return octets > limit ? `MORE than the ${limit} ${where}` : `${limit} ${where}`;
}

function megabits(rateBps: number): string {
  return (rateBps / 1e6).toFixed(3);
}
