/** What a reflector or a diffuser would do to the light on the subject, under an overcast and under a clear sky. */
import type { ExposeDocument, Explanation } from '@tepal/formats';
import { diffuserEffect, GRASS_REFLECTANCE, iesDaylight, reflectorFill, type OpenSky } from '@tepal/science';
import type { CheckedRequest } from './question/request.ts';
import { q, step, word } from './words/explain/quantity.ts';

/** A small white board held low before the shaded side; cloth that takes two thirds of a stop. Common practice, no source. */
const BOARD = { belowDeg: 30, asideDeg: 0, surface: 'white' } as const;
const CLOTH_TRANSMITTANCE = 0.63;
const SUN_ALTITUDE_DEG = 45;
/** The sun's distance changes its light by 3 %; midsummer stands for the year. */
const DAY_OF_YEAR = 172;
/** The shade must cover a flower as wide as a third of the field. */
const SUBJECT_OVER_FIELD = 1 / 3;

type Fill = NonNullable<ExposeDocument['fill']>;

/** The fill for what a question holds to the light; nothing where it holds nothing. */
export function fillAdvice(request: CheckedRequest): Fill | null {
  const { modifiers, light } = request;
  if (modifiers?.reflector === undefined && modifiers?.diffuser === undefined) return null;
  const sunAltitudeDeg =
    modifiers.sunAltitudeDeg ?? (light.kind === 'sky' ? Math.max(1, light.sunAltitudeDeg) : SUN_ALTITUDE_DEG);
  const skies = { overcast: skyOf('overcast', sunAltitudeDeg), clear: skyOf('clear', sunAltitudeDeg) };
  const subjectMm = (SUBJECT_OVER_FIELD * request.sensor.widthMm) / request.magnification;
  const board = modifiers.reflector === undefined ? null : { ...BOARD, ...modifiers.reflector };
  const screen =
    modifiers.diffuser === undefined
      ? null
      : { transmittance: CLOTH_TRANSMITTANCE, subjectMm, ...modifiers.diffuser };
  return {
    sunAltitudeDeg,
    reflector:
      board === null
        ? null
        : { overcast: reflectorFill(skies.overcast, board), clear: reflectorFill(skies.clear, board) },
    diffuser:
      screen === null
        ? null
        : { overcast: diffuserEffect(skies.overcast, screen), clear: diffuserEffect(skies.clear, screen) },
  };
}

/** How the fill was worked out. */
export function fillSteps({ modifiers }: CheckedRequest, fill: Fill | null): Explanation[] {
  if (fill === null) return [];
  const sun = q('sun’s altitude', fill.sunAltitudeDeg, 'degrees');
  const source = 'Lambert 1760; Siegel and Howell 1972; overcast sky: Moon and Spencer 1942; light: IES 1984';
  const steps: Explanation[] = [];
  if (fill.reflector !== null && modifiers?.reflector !== undefined) {
    const { diameterMm, distanceMm, surface = BOARD.surface } = modifiers.reflector;
    const inputs = [
      q('diameter', diameterMm, 'mm'),
      q('distance', distanceMm, 'mm'),
      word('surface', surface),
      sun,
    ];
    const added = q('fill under a clear sky', fill.reflector.clear.fillStops, 'stops');
    const equation = 'E = E_side + (reflectance x E_board - pi L_hidden) F, F the configuration factor';
    steps.push(step('light', 'Fill by a reflector', equation, source, inputs, added));
  }
  if (fill.diffuser !== null && modifiers?.diffuser !== undefined) {
    const { diameterMm, distanceMm, transmittance = CLOTH_TRANSMITTANCE } = modifiers.diffuser;
    const inputs = [
      q('diameter', diameterMm, 'mm'),
      q('distance', distanceMm, 'mm'),
      q('transmittance', transmittance),
      sun,
    ];
    const left = q('contrast left under a clear sky', fill.diffuser.clear.ratioAfterStops, 'stops');
    const equation = 'the sun gone, its light sent on evenly: E = E_sky + (tau E_screen - pi L_hidden) F';
    steps.push(step('light', 'Light through a diffuser', equation, source, inputs, left));
  }
  return steps;
}

/** In sentences. */
export function fillWords(fill: Fill | null): readonly string[] {
  const stops = (x: number): string => `${Number(x.toFixed(1))} stops`;
  const lines: string[] = [];
  if (fill?.reflector) {
    const { overcast, clear } = fill.reflector;
    lines.push(
      `The reflector lifts the shaded side by ${stops(clear.fillStops)} under a clear sky, to ${stops(clear.ratioAfterStops)} between lit and shaded, and by ${stops(overcast.fillStops)} under an overcast one.`,
    );
  }
  if (fill?.diffuser) {
    const { clear, overcast } = fill.diffuser;
    const covers = clear.covers ? '' : ' Its shade does not cover the whole subject.';
    lines.push(
      `The diffuser leaves ${stops(clear.ratioAfterStops)} between lit and shaded under a clear sky instead of ${stops(clear.ratioBeforeStops)}, and costs ${stops(clear.lostStops)}; under an overcast one it only costs ${stops(overcast.lostStops)}.${covers}`,
    );
  }
  return lines;
}

function skyOf(kind: OpenSky['kind'], sunAltitudeDeg: number): OpenSky {
  const { diffuseLux, directNormalLux } = iesDaylight(
    sunAltitudeDeg,
    DAY_OF_YEAR,
    kind === 'overcast' ? 'cloudy' : 'clear',
  );
  return { kind, diffuseLux, directNormalLux, sunAltitudeDeg, groundReflectance: GRASS_REFLECTANCE };
}
