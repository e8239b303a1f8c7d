/** Reflector and diffuser, as the question names them. */
import type { Diffuser, Reflector } from '@tepal/science';

/** What is held to the light. Held low before the shaded side, white, and of a usual cloth unless said. */
export interface LightModifiers {
  readonly reflector?: Pick<Reflector, 'diameterMm' | 'distanceMm'> & Partial<Reflector>;
  readonly diffuser?: Pick<Diffuser, 'diameterMm' | 'distanceMm'> & Partial<Diffuser>;
  /** 45 degrees unless the light was taken from the sky or this is said. */
  readonly sunAltitudeDeg?: number;
}
