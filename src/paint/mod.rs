//! paint
