/*
 * Direct light of eight flat strips on a 1200 x 600 mm shelf at 10 mm, closed form: the same sum as
 * renderer/engine/light/sources/strip.ts, to measure its speed by. Prints milliseconds per field (the
 * best of many) and the mean PPFD.
 */
#define _POSIX_C_SOURCE 199309L
#include <math.h>
#include <stdio.h>
#include <time.h>

#define COLUMNS 120
#define ROWS 60
#define STRIPS 8
#define REPEATS 60

static double ppfd[COLUMNS * ROWS];

static double now_ms(void) {
  struct timespec t;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return 1e3 * (double)t.tv_sec + 1e-6 * (double)t.tv_nsec;
}

static void field(double shift) {
  const double pi = acos(-1.0), length = 1200, flux = 40;
  for (int j = 0; j < ROWS; j++) {
    for (int i = 0; i < COLUMNS; i++) {
      const double x = (i + 0.5) * 10, y = (j + 0.5) * 10, h = 250 + shift;
      double sum = 0;
      for (int k = 0; k < STRIPS; k++) {
        const double side = y - (40 + 74 * k), along = x - 600;
        const double rho2 = h * h + side * side, rho = sqrt(rho2);
        const double x1 = -length / 2 - along, x2 = length / 2 - along;
        sum += h * h / (2 * rho2) *
               (x2 / (rho2 + x2 * x2) - x1 / (rho2 + x1 * x1) +
                atan2(rho * (x2 - x1), rho2 + x1 * x2) / rho);
      }
      ppfd[j * COLUMNS + i] = 1e6 * flux / (pi * length) * sum;
    }
  }
}

int main(void) {
  double best = 1e9, sum = 0;
  for (int r = 0; r < REPEATS; r++) {
    /* A height that changes by nothing to speak of keeps the loop from being folded away. */
    const double start = now_ms();
    field(1e-12 * r);
    const double taken = now_ms() - start;
    if (taken < best) best = taken;
  }
  for (int n = 0; n < COLUMNS * ROWS; n++) sum += ppfd[n];
  printf("%.6f %.9f\n", best, sum / (COLUMNS * ROWS));
  return 0;
}
