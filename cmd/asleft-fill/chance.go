package main

import "math/rand/v2"

// chance is a source of random choices.
type chance struct{ *rand.Rand }

// newChance is the seed's stream of that number.
func newChance(seed, stream uint64) chance {
	return chance{rand.New(rand.NewPCG(seed, stream))}
}

// Streams of a seed. A machine's is machineStream + its number, a scene's
// sceneStream + its number.
const (
	planStream    = 1
	machineStream = 1 << 32
	sceneStream   = 1 << 48
)

// once in n times.
func (c chance) once(n int) bool { return c.IntN(n) == 0 }

// between is from a to b, both included.
func (c chance) between(a, b int) int { return a + c.IntN(b-a+1) }

// one of some.
func one[T any](c chance, some []T) T { return some[c.IntN(len(some))] }

// several are up to n different ones of some, in a random order.
func several[T any](c chance, n int, some []T) []T {
	order := c.Perm(len(some))
	out := make([]T, 0, n)
	for _, i := range order[:min(n, len(some))] {
		out = append(out, some[i])
	}
	return out
}
