import { judgeOf, kindsTried, scalesNow, scalesTried } from './judge';
import { insideOf, lowestOf, plansFor, wideOf, type ArrangeAsked } from './request';
import { lampsOfRow } from './rows';
import { arrangeSiteOf, asWorn } from './site';

// Ways of laying rows that are looked into.
const MOST_PLANS = 3;

/**
 * Mean PPFD (µmol m⁻² s⁻¹) that the lamps asked for can give at full output, as low as they may
 * hang, whether their rows are spaced equally or moved out to the sides: the lesser of the two, so
 * that the most even places between give it, too. Throws on limits that cannot be met.
 */
export function attainableMean(request: ArrangeAsked): number {
  const site = arrangeSiteOf(request);
  const zMm = lowestOf(site, request.limits);
  const judge = judgeOf(site, request.reflected ?? true, 1);
  const scales = scalesTried(request, site, scalesNow(request, site));
  const means = plansFor(request, site)
    .slice(0, MOST_PLANS)
    .map((plan) => {
      const places = [insideOf(plan, site), wideOf(plan)];
      return Math.min(
        ...places.map((some) => {
          const lamps = some.flatMap((placeMm) =>
            lampsOfRow(site.rect, request.kind, plan, { placeMm, zMm, dimming: 1 }),
          );
          return judge(asWorn(lamps, site), kindsTried(request), scales).evenness.mean;
        }),
      );
    });
  return Math.max(...means);
}
