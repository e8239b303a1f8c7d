/** How work on several things tells how far it is. */
export type TellWork = (progress: {
  readonly done: number;
  /** 0 where it is not known. */
  readonly total: number;
  readonly saying: string;
}) => void;
