package frame

import (
	"context"

	"fyne.io/fyne/v2"
)

// Runner does long work away from the window's thread and hands the result
// back on it. Work is named by a key: starting the same key again cancels the
// work under way and drops its result, so only the newest answer ever shows.
//
// All methods belong to the window's thread. The zero value works in the
// background; with Inline set, as in tests, work runs at once in the caller.
type Runner struct {
	Inline bool

	started int
	jobs    map[string]job
}

type job struct {
	number int
	cancel context.CancelFunc
}

// Run does work and then calls done with its value on the window's thread.
// A job that was cancelled or replaced in the meantime never calls done.
func Run[T any](r *Runner, key string, work func(context.Context) T, done func(T)) {
	ctx, number := r.start(key)
	finish := func(value T) {
		if r.jobs[key].number != number {
			return
		}
		r.Cancel(key)
		done(value)
	}
	if r.Inline {
		finish(work(ctx))
		return
	}
	go func() {
		value := work(ctx)
		fyne.Do(func() { finish(value) })
	}()
}

// Try is [Run] for work that may fail.
func Try[T any](r *Runner, key string, work func(context.Context) (T, error), done func(T, error)) {
	type result struct {
		value T
		err   error
	}
	Run(r, key, func(ctx context.Context) result {
		v, err := work(ctx)
		return result{v, err}
	}, func(x result) { done(x.value, x.err) })
}

// TryTelling is [Try] for work that can say how far it is. What it tells reaches
// told on the window's thread, once for each whole percent, never backwards,
// and not at all once the job was cancelled or replaced. The work must not tell from two places at
// one time.
func TryTelling[T any](r *Runner, key string, work func(ctx context.Context, tell func(done, total int)) (T, error), told func(done, total int), done func(T, error)) {
	percent := -1
	number := r.started + 1 // the job that Run is about to start
	tell := func(done, total int) {
		now := 100 * done / max(total, 1)
		if now <= percent {
			return
		}
		percent = now
		show := func() {
			if r.jobs[key].number == number {
				told(done, total)
			}
		}
		if r.Inline {
			show()
			return
		}
		fyne.Do(show)
	}
	Try(r, key, func(ctx context.Context) (T, error) { return work(ctx, tell) }, done)
}

func (r *Runner) start(key string) (context.Context, int) {
	r.Cancel(key)
	if r.jobs == nil {
		r.jobs = map[string]job{}
	}
	ctx, cancel := context.WithCancel(context.Background())
	r.started++
	r.jobs[key] = job{r.started, cancel}
	return ctx, r.started
}

// Busy reports whether work under this key is under way.
func (r *Runner) Busy(key string) bool { _, ok := r.jobs[key]; return ok }

// Cancel asks work under this key to stop and drops its result.
func (r *Runner) Cancel(key string) {
	if j, ok := r.jobs[key]; ok {
		j.cancel()
		delete(r.jobs, key)
	}
}

// CancelAll cancels everything, as when the window closes.
func (r *Runner) CancelAll() {
	for key := range r.jobs {
		r.Cancel(key)
	}
}
