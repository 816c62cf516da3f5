//! The expression of a line, read from its text: numbers, symbols, `+ - * /`, parentheses and functions.

/// An expression as a tree.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Expression {
    /// A number as it is written.
    Number(String),
    /// A symbol.
    Symbol(String),
    /// The negative of something.
    Negative(Box<Expression>),
    /// Two things joined.
    Joined(Sign, Box<Expression>, Box<Expression>),
    /// A function of things.
    Call(String, Vec<Expression>),
}

/// What joins two things.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sign {
    Plus,
    Minus,
    Times,
    Over,
}

/// How deep parentheses may go; what engine sources hold goes nowhere near.
const DEEPEST: u32 = 64;

impl Expression {
    /// Reads a text; nothing if it is no expression.
    pub(crate) fn read(text: &str) -> Option<Self> {
        let mut reader = Reader { rest: text, depth: 0 };
        let found = reader.sum()?;
        reader.peek().is_none().then_some(found)
    }
}

struct Reader<'a> {
    rest: &'a str,
    depth: u32,
}

impl Reader<'_> {
    fn peek(&mut self) -> Option<char> {
        self.rest = self.rest.trim_start();
        self.rest.chars().next()
    }

    fn take(&mut self, wanted: char) -> bool {
        if self.peek() != Some(wanted) {
            return false;
        }
        self.rest = self.rest.get(wanted.len_utf8()..).unwrap_or_default();
        true
    }

    fn one_of(&mut self, signs: [(char, Sign); 2]) -> Option<Sign> {
        signs.into_iter().find_map(|(mark, sign)| self.take(mark).then_some(sign))
    }

    fn sum(&mut self) -> Option<Expression> {
        let mut left = self.product()?;
        while let Some(sign) = self.one_of([('+', Sign::Plus), ('-', Sign::Minus)]) {
            left = Expression::Joined(sign, Box::new(left), Box::new(self.product()?));
        }
        Some(left)
    }

    fn product(&mut self) -> Option<Expression> {
        let mut left = self.factor()?;
        while let Some(sign) = self.one_of([('*', Sign::Times), ('/', Sign::Over)]) {
            left = Expression::Joined(sign, Box::new(left), Box::new(self.factor()?));
        }
        Some(left)
    }

    fn factor(&mut self) -> Option<Expression> {
        self.depth += 1;
        if self.depth > DEEPEST {
            return None;
        }
        let found = if self.take('-') {
            Some(Expression::Negative(Box::new(self.factor()?)))
        } else if self.take('(') {
            let inner = self.sum()?;
            self.take(')').then_some(inner)
        } else {
            self.word()
        };
        self.depth -= 1;
        found
    }

    fn word(&mut self) -> Option<Expression> {
        let first = self.peek()?;
        let belongs =
            |mark: char| mark.is_ascii_alphanumeric() || mark == '_' || (mark == '.' && first.is_ascii_digit());
        let end = self.rest.find(|mark| !belongs(mark)).unwrap_or(self.rest.len());
        let (word, rest) = self.rest.split_at_checked(end).filter(|(word, _)| !word.is_empty())?;
        self.rest = rest;
        if first.is_ascii_digit() {
            return word.parse::<f64>().ok().map(|_| Expression::Number(word.to_owned()));
        }
        if !self.take('(') {
            return Some(Expression::Symbol(word.to_owned()));
        }
        let mut arguments = vec![self.sum()?];
        while self.take(',') {
            arguments.push(self.sum()?);
        }
        self.take(')').then(|| Expression::Call(word.to_owned(), arguments))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_products_bind_closer_and_from_the_left() {
        let symbol = |name: &str| Box::new(Expression::Symbol(name.into()));
        let found = Expression::read("a - b * c / d").unwrap();
        let product = Expression::Joined(Sign::Times, symbol("b"), symbol("c"));
        let quotient = Expression::Joined(Sign::Over, Box::new(product), symbol("d"));
        assert_eq!(found, Expression::Joined(Sign::Minus, symbol("a"), Box::new(quotient)));
    }

    #[test]
    fn verify_what_is_no_expression_is_refused() {
        for text in ["", "a +", "(a", "a b", "f(a", "1.2.3", "a)", "=1+2", &"(".repeat(500)] {
            assert_eq!(Expression::read(text), None, "{text}");
        }
    }
}
