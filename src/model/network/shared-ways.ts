/**
 * Routers that both legs of a reception cross. Losing one does not end the stream where another way is left, but both legs
 * are gone until the routers have found it, which is what a second leg is there to prevent (ST 2022-7 §6).
 */
import { append } from '../../collections/group-by.js';
import type { Leg, Receiver, Sender } from '../../plan/types.js';
import type { Failures } from './failures.js';
import type { RoutedReception } from './routed-receptions.js';
import { choosesOpenly } from './open-choices.js';
import type { Box } from './routing/feet.js';

export interface SharedWay {
  readonly router: Box;
  readonly senders: readonly Sender[];
  readonly receivers: readonly Receiver[];
  readonly legs: readonly Leg[];
  /** True where a router could have taken another of equal paths, and the plan does not say. */
  readonly assumed: boolean;
}

/** By router; those whose loss takes the whole reception are a matter of `failures`. */
export function sharedWays(receptions: readonly RoutedReception[], failures: () => Failures): readonly SharedWay[] {
  const byReceiver = new Map<Receiver, Map<Sender, RoutedReception[]>>();
  for (const one of receptions) {
    if (one.way.kind !== 'way') continue;
    const own = byReceiver.get(one.taker.receiver) ?? new Map<Sender, RoutedReception[]>();
    byReceiver.set(one.taker.receiver, own);
    append(own, one.leg.sender, one);
  }
  const found = new Map<
    Box,
    { readonly receiver: Receiver; readonly sender: Sender; readonly own: RoutedReception[] }[]
  >();
  for (const [receiver, bySender] of byReceiver)
    for (const [sender, own] of bySender) {
      if (new Set(own.map(({ leg }) => leg)).size < 2 || own.length < receiver.legs.length) continue;
      const [first, ...others] = own.map(routersOf);
      for (const router of first ?? [])
        if (others.every((one) => one.has(router))) append(found, router, { receiver, sender, own });
    }
  if (found.size === 0) return [];
  const ends = new Map<Box, Set<Receiver>>();
  for (const {
    element: { thing },
    lost,
  } of failures().ranked)
    if (thing !== undefined && ('ports' in thing || 'interfaces' in thing))
      ends.set(thing, new Set(lost.map(({ receiver }) => receiver)));
  return [...found].flatMap(([router, all]): SharedWay[] => {
    const own = all.filter(({ receiver }) => ends.get(router)?.has(receiver) !== true);
    if (own.length === 0) return [];
    return [
      {
        router,
        senders: [...new Set(own.map(({ sender }) => sender))],
        receivers: [...new Set(own.map(({ receiver }) => receiver))],
        legs: [...new Set(own.flatMap((one) => one.own.map(({ leg }) => leg)))],
        assumed: own.every((one) =>
          one.own.some(({ way }) => way.kind === 'way' && way.ties.some((tie) => choosesOpenly(tie.router))),
        ),
      },
    ];
  });
}

function routersOf({ way }: RoutedReception): ReadonlySet<Box> {
  return new Set(way.kind === 'way' ? way.stages.flatMap(({ router }) => router ?? []) : []);
}
