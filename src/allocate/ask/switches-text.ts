/** Switches for the boxes of each area, on every network, the first area's as the core. */
import { parseRate } from '../../values/quantity.js';
import type { AllAnswers } from './answers.js';
import type { CommonKind } from './common-kinds.js';
import type { TakenInput } from './inputs.js';
import { CONTROL, mediaNetworks } from './kinds-text.js';
import { quoted } from './quoted.js';

/** A picture of `COMMON_FORMATS` takes less of a link, in bit/s (ST 2110-20:2022 §6.3.2: 2.07 Gbit/s and its headers). */
const PICTURE_BPS = 2.3e9;

export function switchLines(
  { areas, networks, switchPorts, growthPercent }: AllAnswers,
  inputs: ReadonlyMap<CommonKind, readonly TakenInput[]>,
): readonly string[] {
  if (switchPorts === 0) return [];
  const taken = new Set(
    [...inputs.values()].flatMap((own) => own.flatMap(({ format, from }) => (format === 'picture' ? [from] : []))),
  ).size;
  const led = areas.some(({ crates }) => crates.some(({ kind }) => kind.leads));
  const filled = areas.filter(({ crates }) => crates.length > 0);
  return [...mediaNetworks({ networks }), CONTROL].flatMap((network) =>
    filled.flatMap(({ name, crates }) => {
      const boxes = crates.reduce((sum, { count }) => sum + count, 0);
      // The core queries and so gets every stream that is sent, taken or not (RFC 4541 §2.1.2).
      const sent = crates.reduce((sum, { kind, count }) => sum + count * picturesOf(kind), 0);
      const between = rateFor(Math.max(taken, sent));
      const wanted = Math.ceil((boxes * (100 + growthPercent)) / 100 / switchPorts);
      return Array.from({ length: wanted }, (_, index) => {
        const own = `${network} ${name}${wanted === 1 ? '' : ` ${index + 1}`}`;
        const rates =
          network === CONTROL
            ? 'rate: 1G, uplinkRate: 10G'
            : `rate: ${fastest(crates.map(({ kind }) => kind.rate))}, uplinkRate: ${between}${led ? ', boundary: true' : ''}`;
        return `  - {name: ${quoted(own)}, network: ${network}, area: ${quoted(name)}, ports: ${switchPorts}, ${rates}}`;
      });
    }),
  );
}

function picturesOf({ senders }: CommonKind): number {
  return senders.filter(({ format }) => format === 'picture').length;
}

const BETWEEN_SWITCHES = ['100G', '200G', '400G', '800G'] as const;

/** The least rate of which a tenth stays free, as `capacity/link-overload` asks; the highest where none does. */
function rateFor(pictures: number): (typeof BETWEEN_SWITCHES)[number] {
  return BETWEEN_SWITCHES.find((rate) => pictures * PICTURE_BPS < 0.9 * (parseRate(rate) ?? 0)) ?? '800G';
}

function fastest(rates: readonly CommonKind['rate'][]): CommonKind['rate'] {
  return rates.reduce((a, b) => ((parseRate(b) ?? 0) > (parseRate(a) ?? 0) ? b : a), '1G');
}
