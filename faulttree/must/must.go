// Package must says in tests that something has to succeed.
package must

// Test is a test, or what stands in for one.
type Test interface{ Fatal(...any) }

// Do ends the test where there is an error.
func Do(t Test, err error) {
	helper(t)()
	if err != nil {
		t.Fatal(err)
	}
}

// Have is what a call returns, once it is told which test ends where the call returns
// an error instead: file := must.Have(os.Open(name))(t).
func Have[T any](v T, err error) func(Test) T {
	return func(t Test) T {
		helper(t)()
		Do(t, err)
		return v
	}
}

// helper is the Helper of a test, which its caller calls.
func helper(t Test) func() {
	if h, ok := t.(interface{ Helper() }); ok {
		return h.Helper
	}
	return func() {}
}
