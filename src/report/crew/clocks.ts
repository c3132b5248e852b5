/** The clock sheet: what is set on each PTP clock, and what it is meant to do. */
import {
  type ClockFact,
  clockFacts,
  type ClockFacts,
  type ClockOwner,
  compareQualities,
} from '../../model/timing/index.js';
import type { Table } from '../../page/page.js';
import type { Plan } from '../../plan/types.js';
import { rigColumn } from './cells.js';
import { sheetTable, type SheetCell, type SheetColumn } from './sheet.js';

/** What a clock is meant to do; who leads in the end is elected. */
type Role = 'leader' | 'backup' | 'follower';

/** One row a clock that takes part in PTP; undefined for a plan without any. Only what the plan states is shown. */
export function clockSheet(plan: Plan): Table | undefined {
  const clocks = clockFacts(plan);
  const roles = rolesOf(clocks);
  const columns: readonly SheetColumn<ClockFacts>[] = [
    rigColumn(plan, ({ rig }) => rig),
    { heading: 'PTP domain', cell: domainCell },
    { heading: 'clock', cell: ({ name }) => name },
    { heading: 'area', cell: ({ owner }) => areaOf(owner) },
    { heading: 'mode', cell: (clock) => stated(clock, 'mode', clock.mode) },
    { heading: 'role', cell: (clock) => roles(clock) },
    { heading: 'priority1', cell: (clock) => stated(clock, 'priority1', clock.quality.priority1) },
    { heading: 'priority2', cell: (clock) => stated(clock, 'priority2', clock.quality.priority2) },
    { heading: 'clock class', cell: (clock) => stated(clock, 'clockClass', clock.quality.clockClass) },
    { heading: 'profile', cell: profileOf },
    { heading: 'log announce interval', cell: (clock) => interval(clock, 'logAnnounceInterval') },
    { heading: 'announce receipt timeout', cell: (clock) => interval(clock, 'announceReceiptTimeout') },
    { heading: 'log sync interval', cell: (clock) => interval(clock, 'logSyncInterval') },
    { heading: 'log delay request interval', cell: (clock) => interval(clock, 'logMinDelayReqInterval') },
    {
      heading: 'log peer delay request interval',
      cell: (clock) => interval(clock, 'logMinPdelayReqInterval'),
      ifFilled: true,
    },
  ];
  return sheetTable(clocks, columns, [
    ({ rig }) => rig.name,
    domainCell,
    (clock) => ORDER.indexOf(roles(clock)),
    ({ name }) => name,
  ]);
}

const ORDER: readonly (Role | undefined)[] = ['leader', 'backup', 'follower', undefined];

function stated(clock: ClockFacts, fact: ClockFact, value: SheetCell): SheetCell {
  return clock.assumed.has(fact) ? undefined : value;
}

function interval(
  clock: ClockFacts,
  key: Extract<ClockFact, `log${string}Interval` | 'announceReceiptTimeout'>,
): SheetCell {
  return stated(clock, key, clock[key]);
}

function domainCell(clock: ClockFacts): SheetCell {
  return stated(clock, 'domain', clock.domain);
}

function areaOf(owner: ClockOwner): string | undefined {
  return owner.area;
}

/** `ST 2059-2:2015`, as the plan writes it. */
function profileOf({ settings, planned }: ClockFacts): string | undefined {
  if (settings.profile !== undefined && settings.profile !== planned?.profile) return settings.profile;
  return planned?.edition === undefined ? planned?.profile : `${planned.profile ?? ''}:${planned.edition}`;
}

/** The leader is the first that its domain lists, else the best claim of those meant to lead. */
function rolesOf(clocks: readonly ClockFacts[]): (clock: ClockFacts) => Role | undefined {
  const leaders = new Map<string, ClockFacts>();
  for (const clock of clocks) {
    if (!meantToLead(clock)) continue;
    const known = leaders.get(keyOf(clock));
    if (known === undefined || goesBefore(clock, known)) leaders.set(keyOf(clock), clock);
  }
  return (clock) => {
    if (clock.mode === 'e2e-transparent' || clock.mode === 'p2p-transparent') return undefined;
    if (!meantToLead(clock)) return 'follower';
    return leaders.get(keyOf(clock)) === clock ? 'leader' : 'backup';
  };
}

function meantToLead(clock: ClockFacts): boolean {
  return clock.meantToLead && !clock.slaveOnly;
}

function keyOf({ rig, domain }: ClockFacts): string {
  return `${domain} ${rig.name}`;
}

function goesBefore(clock: ClockFacts, other: ClockFacts): boolean {
  const [place, otherPlace] = [placeInList(clock), placeInList(other)];
  return place === otherPlace ? compareQualities(clock.quality, other.quality).order < 0 : place < otherPlace;
}

function placeInList({ owner, planned }: ClockFacts): number {
  const place = planned?.grandmasters.indexOf(owner) ?? -1;
  return place < 0 ? Infinity : place;
}
