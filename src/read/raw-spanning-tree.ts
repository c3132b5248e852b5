/** What a plan writes of the spanning tree of a switch. */
export type RawTreeMode = 'none' | 'stp' | 'rstp' | 'mstp';

export interface RawSpanningTree {
  readonly mode: RawTreeMode;
  readonly priority?: number;
  readonly mac?: string;
  readonly method?: 'long' | 'short';
  readonly bpdus?: 'pass' | 'drop';
  readonly instances?: readonly RawTreeInstance[];
}

export interface RawTreeInstance {
  readonly number?: number;
  readonly vlans: readonly string[];
  readonly priority?: number;
}
