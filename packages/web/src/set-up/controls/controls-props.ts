import type { SetUpInputs } from '../question/inputs.ts';

/** What every group of steppers is given: the inputs, and how some of them change. */
export interface ControlsProps {
  readonly inputs: SetUpInputs;
  readonly onChange: (change: Partial<SetUpInputs>) => void;
}
