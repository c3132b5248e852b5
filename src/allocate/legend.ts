/** How to read the numbers of a plan: in words for people, and as a function. */
import type { RawPlan } from '../read/raw-plan.js';
import { formatAddress } from '../values/address.js';
import { ESSENCE_STREAMS, decode, patternOf, type Field, type FieldValues, type Pattern } from './pattern.js';
import { blockOf, sizeOf, type Block } from './kept.js';

/** What a group says by itself. */
export interface GroupReading extends FieldValues {
  readonly network: string;
  /** Name of the area, where the pattern or the unit's block tells it. */
  readonly areaName: string | undefined;
  /** What names of devices of its block begin with. */
  readonly devices: string | undefined;
}

/** Reads groups by the plan's own legend; undefined for groups outside its blocks. */
export function groupReader({ numbering = {} }: RawPlan): (group: number) => GroupReading | undefined {
  const pattern = patternOf(numbering);
  const networks = (numbering.networks ?? []).flatMap(({ network, groups }) => {
    const block = blockOf(groups);
    return block === undefined ? [] : [{ network, ...block }];
  });
  const blocks = (numbering.blocks ?? []).map(({ units, ...rest }) => {
    const [first = 0, last = first] = units.split('-').map(Number);
    return { ...rest, first, last };
  });
  return (group) => {
    const own = networks.find(({ first, length }) => group >= first && group < first + sizeOf(length));
    const values = own === undefined || pattern === undefined ? undefined : decode(pattern, group - own.first);
    if (own === undefined || values === undefined) return undefined;
    const block = blocks.find(({ first, last }) => values.unit >= first && values.unit <= last);
    const named = values.area === 0 ? undefined : numbering.areas?.[values.area - 1];
    return { network: own.network, ...values, areaName: named ?? block?.area, devices: block?.devices };
  };
}

/** The legend as lines of text. */
export function legendLines(plan: RawPlan): readonly string[] {
  const { numbering = {}, vlans = [], networks = [] } = plan;
  const pattern = patternOf(numbering);
  const legOf = new Map(networks.map(({ name, leg }) => [name, leg]));
  const rows: (readonly [string, string])[] = [];
  for (const { network, groups } of numbering.networks ?? []) {
    const block = blockOf(groups);
    const leg = legOf.get(network);
    if (block !== undefined && pattern !== undefined)
      rows.push([groupForm(block, pattern), `groups of ${network}${leg === undefined ? '' : ` (leg ${leg})`}`]);
  }
  for (const { name, subnet, id } of vlans) {
    const block = blockOf(subnet);
    if (block !== undefined)
      rows.push([
        hostForm(block, numbering.hosts === 'place' ? 'n' : 'U'),
        `hosts of ${name}, VLAN ${id ?? ''}${numbering.hosts === 'place' ? ', counted in the order of units' : ''}`,
      ]);
  }
  const wide = Math.max(0, ...rows.map(([form]) => form.length));
  const units = (numbering.blocks ?? []).map(
    ({ devices, area, units: range }) => [spanOf(range), `${devices}${area === undefined ? '' : `, ${area}`}`] as const,
  );
  const unitWide = Math.max(0, ...units.map(([range]) => range.length));
  return [
    'How to read the numbers',
    ...rows.map(([form, means]) => `  ${form.padEnd(wide)}  ${means}`),
    ...(pattern === undefined ? [] : streamLines(pattern)),
    ...(pattern?.fields.some(({ field }) => field === 'area') === true
      ? [`  A  area, from 1: ${(numbering.areas ?? []).join(', ')}`]
      : []),
    '  U  unit number, one for each box; lower ones are gateways and switches, queriers first',
    ...units.map(([range, means]) => `       ${range.padEnd(unitWide)}  ${means}`),
  ];
}

/** `11` for `11-11`. */
function spanOf(range: string): string {
  const [first = '', last] = range.split('-');
  return first === last ? first : range;
}

function streamLines({ streams }: Pattern): readonly string[] {
  const { video, audio, data } = ESSENCE_STREAMS;
  return streams === 'essence'
    ? [`  S  stream of the box: pictures from ${video.first}, sound from ${audio.first}, data from ${data.first}`]
    : ['  S  stream of the box, from 1, in the order of its kind'];
}

const LETTERS: Readonly<Record<Field['field'], string>> = { area: 'A', unit: 'U', stream: 'S' };

/** `239.192.U.S` where fields end with octets, else a sum. */
function groupForm(block: Block, { fields }: Pattern): string {
  if (fields.every(({ bits }) => bits === 8)) {
    const fixed = formatAddress(block.first)
      .split('.')
      .slice(0, 4 - fields.length);
    return [...fixed, ...fields.map(({ field }) => LETTERS[field])].join('.');
  }
  let below = 0;
  const terms = fields.toReversed().map(({ field, bits }) => {
    const factor = 2 ** below;
    below += bits;
    return factor === 1 ? LETTERS[field] : `${LETTERS[field]} × ${factor}`;
  });
  return [formatAddress(block.first), ...terms.toReversed()].join(' + ');
}

function hostForm({ first, length }: Block, letter: string): string {
  const [a = '', b = '', c = ''] = formatAddress(first).split('.');
  return first % 256 === 0 && length >= 24 ? `${a}.${b}.${c}.${letter}` : `${formatAddress(first)} + ${letter}`;
}
