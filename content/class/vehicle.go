package class

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"time"

	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
)

// Seeds lists the variants of a task that a learner of this name may have: the seed of
// [Assignment.Seed], and those that come after it where that one cannot be solved.
func (a *Assignment) Seeds(task int, learner string) []uint64 {
	seed := a.Seed(task, learner)
	if !a.Tasks[task].Own {
		return []uint64{seed}
	}
	return scenes.SeedsFrom(seed)
}

// For tells attempts on record at this assignment by a learner of this name from those
// of others, and names nobody.
func (a *Assignment) For(learner string) string {
	sum := sha256.Sum256([]byte(a.ID + "\x00for\x00" + nameKey(learner)))
	return hex.EncodeToString(sum[:8])
}

// given reports whether a variant of a task is one that a learner may have.
func (a *Assignment) given(task int, learner string, seed uint64) bool {
	return slices.Contains(a.Seeds(task, learner), seed)
}

// Begin is the header of an attempt that a learner begins at a task: with the first
// variant that can be solved, where learners have one of their own. Its vehicle is
// that of [scenes.VariantOf].
func (a *Assignment) Begin(ctx context.Context, r *scenes.Reasoning, task int, learner string, m faulttree.Meter, started time.Time) (practice.Header, error) {
	h := practice.Header{Case: a.Tasks[task].Scenario, Seed: a.Seed(task, learner), Level: a.Level, Role: a.Role, Supervised: a.Supervised, Meter: m, Rules: practice.Rules, Started: started, Content: r.Library().Fingerprint(), For: a.For(learner)}
	if !a.Tasks[task].Own {
		return h, nil
	}
	scenarios, err := a.Scenarios(ctx, r.Library())
	if err != nil {
		return h, err
	}
	v, err := r.Variant(ctx, scenarios[task], h.Seed)
	h.Seed = v.Seed
	return h, err
}
