/* The channel filter of lib/pulse in plain C: prints the time of both passes in microseconds, and the sum of what comes out. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

typedef struct {
  double a0, a1, a2, b1, b2;
} Weights;

static void filterOnce(double *values, int n, Weights w, int by) {
  int i = by == 1 ? 0 : n - 1;
  double xBefore2 = values[i], xBefore = values[i + by], yBefore2 = xBefore2, yBefore = xBefore;
  i += 2 * by;
  for (int left = n - 2; left > 0; left--, i += by) {
    double x = values[i];
    double y = w.a0 * x + w.a1 * xBefore + w.a2 * xBefore2 + w.b1 * yBefore + w.b2 * yBefore2;
    values[i] = y;
    xBefore2 = xBefore;
    xBefore = x;
    yBefore2 = yBefore;
    yBefore = y;
  }
}

static double number(void) {
  double value;
  if (scanf("%lf", &value) != 1) exit(1);
  return value;
}

int main(void) {
  int repeats = (int)number();
  Weights w = {number(), 0, 0, 0, 0};
  w.a1 = number();
  w.a2 = number();
  w.b1 = number();
  w.b2 = number();
  int n = (int)number();
  double *samples = malloc((size_t)n * sizeof *samples), *filtered = malloc((size_t)n * sizeof *filtered), sum = 0;
  for (int i = 0; i < n; i++) samples[i] = number();
  clock_t start = clock();
  for (int r = 0; r < repeats; r++) {
    memcpy(filtered, samples, (size_t)n * sizeof *samples);
    filterOnce(filtered, n, w, 1);
    filterOnce(filtered, n, w, -1);
  }
  double taken = (double)(clock() - start) * 1e6 / CLOCKS_PER_SEC / repeats;
  for (int i = 0; i < n; i++) sum += filtered[i];
  printf("%.4f %.17g\n", taken, sum);
  return 0;
}
